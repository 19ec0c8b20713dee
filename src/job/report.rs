//! From the rooms' values to a report.

use super::choice::choose;
use super::work::Work;
use crate::finding::{Finding, Verdict, gravest};
use crate::fit::{UnitFit, block_length};
use crate::geometry::ShapeError;
use crate::glass;
use crate::hand;
use crate::prove::Proof;
use crate::report::{
    CAUTIONS, InternalBarLine, PassLine, ProgramLine, ProofLine, Report, SashReport, ShapeLine,
    UnitLine,
};
use crate::sash::Solid;
use crate::survey::{self, BarsAs, House, Runs, Workshop};

/// Judges every sash of a house without writing programs.
///
/// # Errors
/// As [`Work::new`].
pub fn check(house: &House) -> Result<Report, ShapeError> {
    let sashes = house
        .sashes
        .iter()
        .map(|measured| {
            let work = Work::new(measured, &house.workshop)?;
            sash_report(&work, &house.workshop, work.findings(), Vec::new(), None)
        })
        .collect::<Result<_, _>>()?;
    Ok(report(house, sashes))
}

pub(super) fn report(house: &House, sashes: Vec<SashReport>) -> Report {
    Report {
        fillister: env!("CARGO_PKG_VERSION"),
        house: house.name.clone(),
        verdict: gravest(sashes.iter().flat_map(|sash| &sash.findings)),
        sashes,
        cautions: CAUTIONS.to_vec(),
    }
}

pub(super) fn sash_report(
    work: &Work,
    workshop: &Workshop,
    findings: Vec<Finding>,
    programs: Vec<ProgramLine>,
    proof: Option<&Proof>,
) -> Result<SashReport, ShapeError> {
    let measured = &work.sash.measured;
    let verdict = gravest(&findings);
    // A sash that is stopped is not to be cut, so nobody is told how.
    let passes =
        work.plan.passes.iter().filter(|_| verdict != Verdict::Stop).map(|pass| PassLine {
            pass: pass.clone(),
            setting: hand::setting(pass, &workshop.router, &workshop.cutter),
        });
    Ok(SashReport {
        id: measured.id.clone(),
        kind: measured.kind.name(),
        verdict,
        bars_as: match measured.bars_as {
            BarsAs::OneUnit => "one-unit",
            BarsAs::UnitPerLight => "unit-per-light",
        },
        rebate_depth: work.fit.depth,
        wood_removed: work.rebate.go.iter().map(Solid::volume).sum::<f64>() / 1000.0,
        units: work.fit.units.iter().map(|unit| unit_line(unit, &measured.unit)).collect(),
        timber: work.timber.clone(),
        findings,
        choice: choose(measured, workshop)?,
        passes: passes.collect(),
        programs,
        proof: proof.map(proof_line),
    })
}

fn proof_line(proof: &Proof) -> ProofLine {
    ProofLine {
        proven: proof.is_proven(),
        tolerance: proof.tolerance,
        margins: proof.margins.clone(),
        volumes: proof.volumes,
        corners: proof.chisel.clone(),
    }
}

fn unit_line(unit: &UnitFit, choice: &survey::Unit) -> UnitLine {
    let bars = unit.bars.iter().map(|bar| InternalBarLine {
        runs: match bar.runs {
            Runs::Upright => "upright",
            Runs::Cross => "cross",
        },
        from_edge: bar.from_edge,
        width: bar.width,
    });
    UnitLine {
        light: unit.light.clone(),
        sight: unit.sight.size().into(),
        order: unit.order.into(),
        shape: ShapeLine::of(&unit.outlines.order),
        build_up: choice.build_up.to_string(),
        thickness: choice.build_up.thickness(),
        thickest: glass::thickest(choice),
        weight: glass::weight_of(&choice.build_up, unit.glass_area()),
        spacer_height: choice.spacer_height,
        tape: choice.tape,
        internal_bars: bars.collect(),
        rebate_width: unit.rebate_width,
        clearance: unit.clearance,
        cover: unit.cover,
        block_length: block_length(unit),
    }
}
