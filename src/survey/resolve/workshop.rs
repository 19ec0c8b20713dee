//! The workshop's settings over their defaults.

use super::unit::make;
use crate::geometry::SAME;
use crate::input::{Optional, Reader, Spanned, show};
use crate::survey::file::workshop::{
    AllowancesTable, CandidatesTable, CutterTable, CuttingTable, MachineTable, OfferedTable,
    OverhangTable, PrinterTable, RouterTable, WorkshopTable,
};
use crate::survey::values::{
    Allowances, Bearing, Candidates, Cutter, Cutting, Holder, Limit, Limits, Machine, Offered,
    Overhang, Printer, Router, Workshop,
};

pub(super) fn workshop(
    table: Option<&Spanned<WorkshopTable>>,
    reader: &mut Reader<'_>,
) -> Workshop {
    let Some(table) = table else { return Workshop::default() };
    let limits = table.limits.as_ref();
    Workshop {
        cutter: table.cutter.as_ref().map_or_else(Cutter::default, |seen| cutter(seen, reader)),
        router: table.router.as_ref().map_or_else(Router::default, |seen| router(seen)),
        printer: table.printer.as_ref().map_or_else(Printer::default, |seen| printer(seen)),
        machine: table.machine.as_ref().map_or_else(Machine::default, |seen| machine(seen)),
        cutting: table.cutting.as_ref().map_or_else(Cutting::default, |seen| cutting(seen)),
        allowances: allowances(table.allowances.as_ref()),
        candidates: candidates(table.candidates.as_ref()),
        limits: limits.map_or_else(Limits::default, |seen| self::limits(&seen.set, reader)),
    }
}

fn cutter(table: &CutterTable, reader: &mut Reader<'_>) -> Cutter {
    let usual = Cutter::default();
    let holder = table.holder.as_ref().and_then(|seen| {
        let (diameter, stick_out) = (seen.diameter.as_ref()?, seen.stick_out.as_ref()?);
        let edges = table.cutting_length.value_or(usual.cutting_length);
        if stick_out.value < edges - SAME {
            let expected = format!("at least {} mm, the length of the cutting edges", show(edges));
            reader.contradict(&stick_out.place, expected, "the edges stand out of the holder");
        }
        Some(Holder { diameter: diameter.value, stick_out: stick_out.value })
    });
    Cutter {
        holder,
        diameter: table.diameter.value_or(usual.diameter),
        flutes: table.flutes.value_or(usual.flutes),
        cutting_length: table.cutting_length.value_or(usual.cutting_length),
        shank_diameter: table.shank_diameter.value_or(usual.shank_diameter),
    }
}

/// Height of upright wood that a bearing runs on, mm. Common practice, no source.
const USUAL_BEARING: f64 = 5.0;

fn router(table: &RouterTable) -> Router {
    let usual = Router::default();
    Router {
        base_diameter: table.base_diameter.value_or(usual.base_diameter),
        guide_bush: table.guide_bush.value_or(usual.guide_bush),
        guided_by: table.guided_by.value_or(usual.guided_by),
        plate: table.plate.value_or(usual.plate),
        bearing: table.bearing.as_ref().and_then(|bearing| {
            let diameter = bearing.diameter.as_ref()?.value;
            Some(Bearing { diameter, height: bearing.height.value_or(USUAL_BEARING) })
        }),
    }
}

fn printer(table: &PrinterTable) -> Printer {
    let usual = Printer::default();
    Printer {
        paper: table.paper.value_or(usual.paper),
        roll_width: table.roll_width.value_or(usual.roll_width),
        margin: table.margin.value_or(usual.margin),
        overlap: table.overlap.value_or(usual.overlap),
    }
}

fn machine(table: &MachineTable) -> Machine {
    let usual = Machine::default();
    Machine {
        bed: table.bed.value_or(usual.bed),
        clear_height: table.clear_height.value_or(usual.clear_height),
        max_feed: table.max_feed.value_or(usual.max_feed),
        max_plunge: table.max_plunge.value_or(usual.max_plunge),
        rapid: table.rapid.value_or(usual.rapid),
        spindle: table.spindle.value_or(usual.spindle),
        spindle_slowest: table.spindle_slowest.value_or(usual.spindle_slowest),
        zero: table.zero.value(),
        overhang: table.overhang.as_ref().map(|seen| overhang(seen)).unwrap_or_default(),
    }
}

fn overhang(table: &OverhangTable) -> Overhang {
    let room = |side: &Option<Spanned<f64>>| side.value();
    Overhang {
        left: room(&table.left),
        right: room(&table.right),
        front: room(&table.front),
        back: room(&table.back),
    }
}

fn cutting(table: &CuttingTable) -> Cutting {
    let usual = Cutting::default();
    Cutting {
        step_depth: table.step_depth.value_or(usual.step_depth),
        widen_step: table.widen_step.value_or(usual.widen_step),
        side_step: table.side_step.value_or(usual.side_step),
        score_depth: table.score_depth.value_or(usual.score_depth),
        finish_allowance: table.finish_allowance.value_or(usual.finish_allowance),
        chip_load: table.chip_load.value_or(usual.chip_load),
        direction: table.direction.value_or(usual.direction),
        tolerance: table.tolerance.value_or(usual.tolerance),
        zero_error: table.zero_error.value_or(usual.zero_error),
    }
}

/// Sets the limits; a caution that can never come before its stop is a slip.
fn limits(set: &[(&'static str, Spanned<f64>)], reader: &mut Reader<'_>) -> Limits {
    let mut limits = Limits::default();
    for (name, value) in set {
        if let Some(limit) = limits.by_name(name) {
            *limit = Limit::set(value.value);
        }
        let Some(stem) = name.strip_suffix("_caution") else { continue };
        let stop = set.iter().find(|(other, _)| other.strip_suffix("_stop") == Some(stem));
        let Some((stop_name, stop)) = stop else { continue };
        // What shows is judged by how much; everything else by how little is left.
        let (wrong, side) = if stem == "shows" {
            (value.value > stop.value, "at most")
        } else {
            (value.value < stop.value, "at least")
        };
        if wrong {
            let expected = format!("{side} {}, the value of {stop_name}", show(stop.value));
            reader.contradict(&value.place, expected, "caution must come before stop");
        }
    }
    limits
}

fn allowances(table: Option<&Spanned<AllowancesTable>>) -> Allowances {
    let usual = Allowances::default();
    let Some(table) = table else { return usual };
    Allowances {
        measuring: table.measuring.value_or(usual.measuring),
        cutting: table.cutting.value_or(usual.cutting),
        moisture_now: table.moisture_now.value_or(usual.moisture_now),
        moisture_most: table.moisture_most.value_or(usual.moisture_most),
        glass_now: table.glass_now.value_or(usual.glass_now),
        glass_hot: table.glass_hot.value_or(usual.glass_hot),
    }
}

fn candidates(table: Option<&Spanned<CandidatesTable>>) -> Candidates {
    let usual = Candidates::default();
    let Some(table) = table else { return usual };
    let units = table.units.iter().flat_map(|seen| seen.iter());
    Candidates {
        usual: table.usual.value_or(usual.usual),
        units: units.filter_map(|seen| offered(seen)).collect(),
    }
}

fn offered(table: &OfferedTable) -> Option<Offered> {
    Some(Offered {
        build_up: table.build_up.as_ref()?.value.clone(),
        make: make!(table),
        cover: table.cover.value(),
        spacer_height: table.spacer_height.value(),
        over: table.over.value(),
    })
}
