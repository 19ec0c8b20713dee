//! From the rooms' values to a report.

use super::building::Hanging;
use super::cannot_be_cut::cannot_be_cut;
use super::choice::{Known, choose};
use super::done::judged;
use super::error::WorkError;
use super::trial::Views;
use super::work::Work;
use crate::finding::{Answers, Finding, Verdict, gravest, gravest_first};
use crate::fit::{self, UnitFit, block_length};
use crate::geometry::{MinMax, PerSide};
use crate::glass;
use crate::glass::strength::{Case, Climate, PaneLoad};
use crate::hand;
use crate::hand::bearing::{faces, width_given};
use crate::language::{Language, Said, Text, text};
use crate::machine::{self, Touch};
use crate::movement::{Budget, Movement};
use crate::prove::Proof;
use crate::report::{
    CAUTIONS, CannotBeCut, Choice, ExtentMm, FaceHeights, GapLine, HangingLine, InternalBarLine,
    PassLine, ProgramLine, ProofLine, Report, SashReport, SetUpLine, ShapeLine, StrengthLine,
    UnitLine, WindLine, WorstPane, all_finite,
};
use crate::sash::{Part, Sash, Solid};
use crate::sheets::kit::grouped;
use crate::survey::{self, BarsAs, Horns, House, RECORD, Record, Runs, WaterOut, Workshop};
use crate::timber;
use rayon::prelude::*;
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::convert::Infallible;

/// Judges every sash of a house without writing programs.
///
/// A sash that cannot be worked out is told in the report and keeps back no other.
pub fn check(house: &House) -> Report {
    check_against(house, &Record::default())
}

/// As [`check`], and holds every sash against what is done at it already.
pub fn check_against(house: &House, record: &Record) -> Report {
    check_with(house, record, Views::shared)
}

/// As [`check`], but that every unit tried is worked out by itself: the same report, slowly.
#[doc(hidden)]
pub fn check_apart(house: &House) -> Report {
    check_with(house, &Record::default(), Views::apart)
}

fn check_with(house: &House, record: &Record, views: fn() -> Views) -> Report {
    let mut sashes = Vec::new();
    let report = in_turn(
        (house, record),
        (views, usize::MAX),
        |sash| sash,
        |sash| {
            sashes.push(sash);
            Ok::<_, Infallible>(())
        },
    );
    match report {
        Ok(report) => Report { sashes, ..report },
        Err(never) => match never {},
    }
}

/// So many sashes are judged before the first of them is handed on.
const IN_TURN: usize = 64;

/// As [`check_against`], but of each sash only what `make` makes of it is kept, and handed to `take` in the order of the
/// survey; the report is without sashes.
///
/// # Errors
/// The first of `take`.
pub fn check_in_turn<T: Send, E>(
    house: &House,
    record: &Record,
    make: impl Fn(SashReport) -> T + Sync,
    take: impl FnMut(T) -> Result<(), E>,
) -> Result<Report, E> {
    in_turn((house, record), (Views::shared, IN_TURN), make, take)
}

/// As [`check_in_turn`], by those views, so many sashes at a time.
fn in_turn<T: Send, E>(
    (house, record): (&House, &Record),
    (views, at_a_time): (fn() -> Views, usize),
    make: impl Fn(SashReport) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), E>,
) -> Result<Report, E> {
    let (mut briefs, mut left) = (Vec::new(), Vec::new());
    for sashes in house.sashes.chunks(at_a_time) {
        let checked = sashes.par_iter().map(|sash| {
            let sash = check_sash(house, sash, record, views)?;
            let brief = Brief::of(&sash, house);
            Ok((make(sash), brief))
        });
        for checked in checked.collect::<Vec<Result<_, CannotBeCut>>>() {
            match checked {
                Ok((made, brief)) => {
                    take(made)?;
                    briefs.push(brief);
                }
                Err(none) => left.push(none),
            }
        }
    }
    let mut report = in_brief(house, &briefs, left);
    tell_lost(house, record, &mut report.doubts, &mut report.verdict);
    Ok(report)
}

/// What the report of a house takes from one of its sashes.
struct Brief {
    id: String,
    verdict: Verdict,
    duties: Vec<Said>,
}

impl Brief {
    fn of(sash: &SashReport, house: &House) -> Brief {
        let told = |duty| Said::of(duty, house.workshop.printer.language);
        let duties = sash.duties.iter().map(told).collect();
        Brief { id: sash.id.clone(), verdict: sash.verdict, duties }
    }
}

/// What is done at a sash that the survey no longer has is told at the house, and is a stop.
pub(super) fn tell_lost(
    house: &House,
    record: &Record,
    doubts: &mut Vec<Text>,
    verdict: &mut Verdict,
) {
    let known: BTreeSet<&str> = house.sashes.iter().map(|sash| sash.id.as_str()).collect();
    for done in record.sashes.iter().filter(|done| !known.contains(done.id.as_str())) {
        let ordered = done.ordered.iter().map(|unit| text!("lost-ordered", on = &unit.on));
        let cut = done.cut.iter().map(|cut| text!("lost-cut", on = &cut.on));
        let glazed = done.glazed.iter().map(|on| text!("lost-glazed", on));
        let all: Vec<Text> = ordered.chain(cut).chain(glazed).collect();
        let what = if all.is_empty() { text!("lost-noted") } else { Text::listed(&all) };
        doubts.push(text!("lost", sash = &done.id, what, record = RECORD));
        *verdict = Verdict::Stop;
    }
}

pub(super) fn check_sash(
    house: &House,
    measured: &survey::Sash,
    record: &Record,
    views: fn() -> Views,
) -> Result<SashReport, CannotBeCut> {
    worked(house, measured, record, views).map(|(_, report)| report)
}

/// A sash worked through the rooms but its programs' proof, and its report without programs.
pub(super) fn worked(
    house: &House,
    measured: &survey::Sash,
    record: &Record,
    views: fn() -> Views,
) -> Result<(Work, SashReport), CannotBeCut> {
    let (views, workshop) = (views(), &house.workshop);
    let worked = Work::within(&views, measured, workshop).and_then(|work| {
        let choice = choose(&views, &work, workshop, Known::Answer)?;
        let findings = findings(&work, workshop, record);
        let report = sash_report(&work, workshop, choice, findings, Vec::new(), None)?;
        Ok((work, report))
    });
    worked.map_err(|error| cannot_be_cut(measured, &error))
}

/// What is found of a sash, and of what is done at it already, gravest first.
pub(super) fn findings(work: &Work, workshop: &Workshop, record: &Record) -> Vec<Finding> {
    let mut findings = work.findings();
    if let Some(done) = record.of(&work.sash.measured.id) {
        findings.extend(judged(done, work, workshop));
        gravest_first(&mut findings);
    }
    findings
}

pub(super) fn report(
    house: &House,
    sashes: Vec<SashReport>,
    cannot_be_cut: Vec<CannotBeCut>,
) -> Report {
    let briefs = sashes.iter().map(|sash| Brief::of(sash, house));
    let report = in_brief(house, &briefs.collect::<Vec<_>>(), cannot_be_cut);
    Report { sashes, ..report }
}

/// The report of a house without its sashes.
fn in_brief(house: &House, sashes: &[Brief], cannot_be_cut: Vec<CannotBeCut>) -> Report {
    let duties: Vec<_> =
        sashes.iter().map(|sash| (sash.id.as_str(), sash.duties.as_slice())).collect();
    let of_sashes = sashes.iter().map(|sash| sash.verdict);
    let all = of_sashes.chain(cannot_be_cut.iter().map(|sash| sash.verdict));
    Report {
        fillister: env!("CARGO_PKG_VERSION"),
        house: house.name.clone(),
        verdict: all.max().unwrap_or(Verdict::Clear),
        doubts: house.doubts.iter().map(survey::Doubt::told).collect(),
        sashes: Vec::new(),
        cannot_be_cut,
        assumed: Vec::new(),
        cautions: cautions(&duties, house.workshop.printer.language),
    }
}

/// The report of one sash.
///
/// # Errors
/// Where a number of it is none: nobody is to read it as one that was not asked.
pub(super) fn sash_report(
    work: &Work,
    workshop: &Workshop,
    choice: Choice,
    findings: Vec<Finding>,
    programs: Vec<ProgramLine>,
    proof: Option<&Proof>,
) -> Result<SashReport, WorkError> {
    let measured = &work.sash.measured;
    let verdict = gravest(&findings);
    // A sash that is stopped is not to be cut, so nobody is told how.
    let answers = Answers::of(&findings);
    let cut = answers.may_be_cut();
    let passes = work.plan.passes.iter().filter(|_| cut).map(|pass| PassLine {
        pass: pass.clone(),
        setting: hand::setting(pass, &work.fit, workshop),
    });
    let cutter = &workshop.cutter;
    let report = SashReport {
        id: measured.id.clone(),
        kind: measured.kind.name(),
        verdict,
        answers,
        measured: super::measured::measured(measured),
        bars_as: match measured.bars_as {
            BarsAs::OneUnit => "one-unit",
            BarsAs::UnitPerLight => "unit-per-light",
        },
        glazing: if measured.finish.is_puttied() { "putty" } else { "beads" },
        drainage: measured.finish.water.map(|water| match water {
            WaterOut::Drained => "drained",
            WaterOut::Bedded => "bedded",
        }),
        height_over_horns: (measured.horns != Horns::default())
            .then(|| work.sash.extent().height()),
        rebate_depth: work.fit.depth,
        wood_removed: work.rebate.go.iter().map(Solid::volume).sum::<f64>() / 1000.0,
        units: work.fit.units.iter().map(|unit| unit_line(unit, work)).collect(),
        timber: work.timber.clone(),
        findings,
        choice,
        warmth: work.building.warmth.clone(),
        wind: WindLine { pressure: measured.wind.pressure(), words: measured.wind.told() },
        sealed: Climate::heights(&measured.around.weather),
        worst_panes: worst_panes(&work.building.strength),
        strength: work.building.strength.clone(),
        hanging: work.building.hanging.as_ref().map(hanging_line),
        gaps: work.building.movement.iter().flat_map(gap_lines).collect(),
        duties: work
            .building
            .duty
            .notes
            .iter()
            .cloned()
            .chain(fit::under_published(&work.sash, &work.fit, &workshop.limits))
            .chain(timber::not_judged(&work.sash))
            .collect(),
        materials: cut.then(|| work.materials.clone()),
        reach: hand::reach_needed(workshop, work.fit.depth),
        face: face_heights(&work.sash),
        bearing_width: workshop
            .router
            .bearing
            .map(|bearing| width_given(cutter.diameter, bearing.diameter)),
        bearing_faces: if cut { faces(&work.sash, &work.fit, cutter) } else { Vec::new() },
        passes: passes.collect(),
        set_ups: if cut { set_ups(work) } else { Vec::new() },
        touch: cut.then(|| Touch::new(&work.sash, work.fit.depth, workshop)),
        faster: (!programs.is_empty())
            .then(|| machine::faster(&work.programs.programs, workshop))
            .flatten(),
        programs,
        proof: proof.map(proof_line),
    };
    all_finite(&report)?;
    Ok(report)
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

/// Heights of a face that was measured not to be flat.
fn face_heights(sash: &Sash) -> Option<FaceHeights> {
    if sash.measured.surface.is_empty() {
        return None;
    }
    let (lowest, highest) = sash.measured.warp().surface.range(sash.outer);
    Some(FaceHeights { lowest, highest, range: highest - lowest })
}

/// Where the sash lies in every set-up, and the stops it is laid against.
fn set_ups(work: &Work) -> Vec<SetUpLine> {
    let sash = &work.sash;
    // A sash has an area.
    let outer = sash.outer_outline.within(sash.outer);
    let outer = outer.unwrap_or_else(|_| sash.outer_outline.outline().clone());
    let horns = sash.horns();
    let mut lines: Vec<SetUpLine> = Vec::new();
    for set_up in &work.programs.set_ups {
        let place = set_up.place;
        let (bounds, reach) = (place.local_rect(sash.outer), place.local_rect(set_up.window));
        let before = lines.last().filter(|before| before.turned == place.turned);
        let moved =
            before.map(|before| [bounds.x0 - before.sash.left, bounds.y0 - before.sash.bottom]);
        let horns: Vec<_> =
            horns.iter().map(|horn| place.local_rect(horn.outline.bounds())).collect();
        let stops = machine::stops(&place.local_outline(&outer), reach, &horns);
        lines.push(SetUpLine {
            number: set_up.number,
            turned: place.turned,
            sash: bounds.into(),
            reach: reach.into(),
            stops: stops.into_iter().map(ExtentMm::from).collect(),
            moved,
            place,
        });
    }
    lines
}

/// The worst pane of all units in each case.
fn worst_panes(units: &[StrengthLine]) -> Vec<WorstPane> {
    let cases = || units.iter().flat_map(|unit| &unit.strength.cases);
    let first = units.first().map_or(&[][..], |unit| &unit.strength.cases);
    let worst = |case: &Case| WorstPane {
        case: case.name.clone(),
        share: cases()
            .filter(|of| of.name == case.name)
            .filter_map(Case::worst)
            .map(PaneLoad::share)
            .fold(0.0, f64::max),
    };
    first.iter().map(worst).collect()
}

fn hanging_line(hanging: &Hanging) -> HangingLine {
    HangingLine {
        weights: hanging.weights,
        before: hanging.weights.before(),
        after: hanging.weights.after(),
        gain: hanging.weights.gain(),
        counterweights: hanging.counterweights.clone(),
        hung: hanging.hung.clone(),
    }
}

fn gap_lines(movement: &Movement) -> Vec<GapLine> {
    let ways = [("across", &movement.across), ("up", &movement.up), ("bed", &movement.depth)];
    let line = |(way, budget): (&str, &Budget)| GapLine {
        place: format!("{}, {way}", movement.light),
        gap: budget.gap,
        wanted: budget.wanted,
        chance: budget.chance(),
        in_use: budget.in_use(),
        largest: budget.largest().map(|(taker, _)| taker.name),
        words: budget.words(),
        likely: budget.likely(),
        takers: budget.takers.clone(),
    };
    ways.map(line).to_vec()
}

/// Cautions of the work, and every duty with the sashes that it falls on, where these are not all.
pub(super) fn cautions(sashes: &[(&str, &[Said])], language: &Language) -> Vec<Said> {
    let notes = sashes.iter().flat_map(|(id, notes)| notes.iter().map(move |note| (note, *id)));
    let notes: Vec<(&Said, &str)> = notes.collect();
    let duties = grouped(&notes, |a, b| a.0 == b.0, |(_, id)| *id);
    let duties = duties.into_iter().map(|(&(note, _), ids)| {
        if ids.len() == sashes.len() {
            return note.clone();
        }
        let of = |note: &str| text!("caution-of", sashes = ids.join(", "), note);
        Said { british: of(&note.british).to_string(), told: language.say(&of(&note.told)) }
    });
    duties.chain(CAUTIONS.iter().map(|key| Said::of(&Text::of(key), language))).collect()
}

/// Where a judgement asks for glass that breaks safely in that unit.
fn safety(unit: &UnitFit, work: &Work) -> Option<Text> {
    let mut found = work.building.duty.findings.iter();
    let asked = found.find(|finding| {
        finding.rule == "safety.glazing"
            && finding.place == Text::name(&unit.light)
            && finding.verdict != Verdict::Clear
    })?;
    let advice = Text::Row(vec![asked.advice.clone()]);
    Some(text!("duty-by", advice, basis = asked.basis.to_string()))
}

/// Wood of the members beside a unit, from its walls outwards; none beside a bar.
fn beside(unit: &UnitFit, sash: &Sash, depth: f64) -> PerSide<Option<MinMax>> {
    PerSide::from_fn(|side| match sash.neighbour(&unit.outlines.sight, side).0 {
        Part::Member(own) => Some(sash.wood_beside(own, *unit.rebate_width.get(side), depth)),
        Part::Bar(_) => None,
    })
}

fn unit_line(unit: &UnitFit, work: &Work) -> UnitLine {
    let choice = &work.sash.measured.unit;
    let (safety, properties) = (safety(unit, work), glass::Properties::of(&choice.make));
    let make = match safety {
        None => properties.words(),
        Some(_) => properties.words_for_safety(),
    };
    let bars = unit.bars.iter().map(|bar| InternalBarLine {
        runs: match bar.bar.measured.runs {
            Runs::Upright => "upright".into(),
            Runs::Cross => "cross".into(),
        },
        from_edge: bar.from_edge,
        width: bar.width,
    });
    UnitLine {
        light: unit.light.clone(),
        sight: unit.sight().size().into(),
        order: unit.order.into(),
        shape: ShapeLine::of(&unit.outlines.order),
        build_up: choice.build_up.to_string(),
        layers: glass::layers(&choice.build_up, &choice.make, safety.is_some()),
        make,
        unstated: glass::unstated(&choice.build_up, &choice.make)
            .into_iter()
            // What fills the gap touches the seal for good.
            .chain(work.sash.measured.finish.fills_gap().then_some("sealant that suits its seal"))
            .map(Cow::Borrowed)
            .collect(),
        safety,
        thickness: choice.build_up.thickness(),
        thickest: glass::thickest(choice),
        area: unit.glass_area() / 1e6,
        weight: glass::weight(&choice.build_up, unit.glass_area()),
        spacer_height: choice.spacer_height,
        tape: choice.tape,
        internal_bars: bars.collect(),
        rebate_width: unit.rebate_width,
        clearance: unit.clearance,
        cover: unit.cover,
        beside: beside(unit, &work.sash, work.fit.depth),
        turned: unit.turned(),
        block_length: block_length(unit),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::NotANumber;
    use crate::sash::tests::casement;
    use crate::survey::Workshop;

    #[test]
    fn a_sash_with_a_number_that_is_none_is_told_as_one_that_cannot_be_cut() {
        let (views, workshop) = (Views::shared(), Workshop::default());
        let measured = casement();
        let mut work = Work::within(&views, &measured, &workshop).unwrap();
        let choice = choose(&views, &work, &workshop, Known::Answer).unwrap();
        let of = |work: &Work| {
            sash_report(work, &workshop, choice.clone(), work.findings(), Vec::new(), None)
        };
        assert!(of(&work).is_ok());
        work.fit.depth = f64::NAN;
        let error = of(&work).unwrap_err();
        assert_eq!(error, WorkError::Report(NotANumber { at: "rebate_depth".into() }));
        let told = cannot_be_cut(&measured, &error);
        assert_eq!((told.id, told.verdict), (measured.id, Verdict::Stop));
        let [finding] = told.findings.as_slice() else { panic!("one finding") };
        assert!(
            finding.advised().contains("no number was found for rebate_depth"),
            "{}",
            finding.advised()
        );
    }
}
