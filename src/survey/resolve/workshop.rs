//! The workshop's settings over their defaults.

use super::around;
use crate::geometry::SAME;
use crate::survey::file::{
    CutterTable, CuttingTable, MachineTable, OverhangTable, PrinterTable, RouterTable,
    WorkshopTable,
};
use crate::survey::reader::{Reader, Seen};
use crate::survey::scalars::show;
use crate::survey::{
    Bearing, Cutter, Cutting, Holder, Limit, Limits, Machine, Overhang, Printer, Router, Workshop,
};

pub(super) fn workshop(table: Option<&Seen<WorkshopTable>>, reader: &mut Reader) -> Workshop {
    let Some(table) = table else { return Workshop::default() };
    let limits = table.limits.as_ref();
    Workshop {
        cutter: table.cutter.as_ref().map_or_else(Cutter::default, |seen| cutter(seen, reader)),
        router: table.router.as_ref().map_or_else(Router::default, |seen| router(seen)),
        printer: table.printer.as_ref().map_or_else(Printer::default, |seen| printer(seen)),
        machine: table.machine.as_ref().map_or_else(Machine::default, |seen| machine(seen)),
        cutting: table.cutting.as_ref().map_or_else(Cutting::default, |seen| cutting(seen)),
        allowances: around::allowances(table.allowances.as_ref()),
        candidates: around::candidates(table.candidates.as_ref()),
        limits: limits.map_or_else(Limits::default, |seen| self::limits(&seen.set, reader)),
    }
}

fn or<T: Copy>(seen: Option<&Seen<T>>, usual: T) -> T {
    seen.map_or(usual, |seen| seen.value)
}

fn cutter(table: &CutterTable, reader: &mut Reader) -> Cutter {
    let usual = Cutter::default();
    let holder = table.holder.as_ref().and_then(|seen| {
        let (diameter, stick_out) = (seen.diameter.as_ref()?, seen.stick_out.as_ref()?);
        let edges = or(table.cutting_length.as_ref(), usual.cutting_length);
        if stick_out.value < edges - SAME {
            let expected = format!("at least {} mm, the length of the cutting edges", show(edges));
            reader.contradict(&stick_out.place, expected, "the edges stand out of the holder");
        }
        Some(Holder { diameter: diameter.value, stick_out: stick_out.value })
    });
    Cutter {
        holder,
        diameter: or(table.diameter.as_ref(), usual.diameter),
        flutes: or(table.flutes.as_ref(), usual.flutes),
        cutting_length: or(table.cutting_length.as_ref(), usual.cutting_length),
        shank_diameter: or(table.shank_diameter.as_ref(), usual.shank_diameter),
    }
}

/// Height of upright wood that a bearing runs on, mm. Common practice, no source.
const USUAL_BEARING: f64 = 5.0;

fn router(table: &RouterTable) -> Router {
    let usual = Router::default();
    Router {
        base_diameter: or(table.base_diameter.as_ref(), usual.base_diameter),
        guide_bush: or(table.guide_bush.as_ref(), usual.guide_bush),
        guided_by: or(table.guided_by.as_ref(), usual.guided_by),
        plate: or(table.plate.as_ref(), usual.plate),
        bearing: table.bearing.as_ref().and_then(|bearing| {
            let diameter = bearing.diameter.as_ref()?.value;
            Some(Bearing { diameter, height: or(bearing.height.as_ref(), USUAL_BEARING) })
        }),
    }
}

fn printer(table: &PrinterTable) -> Printer {
    let usual = Printer::default();
    Printer {
        paper: or(table.paper.as_ref(), usual.paper),
        roll_width: or(table.roll_width.as_ref(), usual.roll_width),
        margin: or(table.margin.as_ref(), usual.margin),
        overlap: or(table.overlap.as_ref(), usual.overlap),
    }
}

fn machine(table: &MachineTable) -> Machine {
    let usual = Machine::default();
    Machine {
        bed: or(table.bed.as_ref(), usual.bed),
        clear_height: or(table.clear_height.as_ref(), usual.clear_height),
        max_feed: or(table.max_feed.as_ref(), usual.max_feed),
        max_plunge: or(table.max_plunge.as_ref(), usual.max_plunge),
        rapid: or(table.rapid.as_ref(), usual.rapid),
        spindle: or(table.spindle.as_ref(), usual.spindle),
        spindle_slowest: or(table.spindle_slowest.as_ref(), usual.spindle_slowest),
        zero: table.zero.as_ref().map(|zero| zero.value),
        overhang: table.overhang.as_ref().map(|seen| overhang(seen)).unwrap_or_default(),
    }
}

fn overhang(table: &OverhangTable) -> Overhang {
    let room = |side: &Option<Seen<f64>>| side.as_ref().map(|side| side.value);
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
        step_depth: or(table.step_depth.as_ref(), usual.step_depth),
        widen_step: or(table.widen_step.as_ref(), usual.widen_step),
        side_step: or(table.side_step.as_ref(), usual.side_step),
        score_depth: or(table.score_depth.as_ref(), usual.score_depth),
        finish_allowance: or(table.finish_allowance.as_ref(), usual.finish_allowance),
        chip_load: or(table.chip_load.as_ref(), usual.chip_load),
        direction: or(table.direction.as_ref(), usual.direction),
        tolerance: or(table.tolerance.as_ref(), usual.tolerance),
        zero_error: or(table.zero_error.as_ref(), usual.zero_error),
    }
}

/// Sets the limits; a caution that can never come before its stop is a slip.
fn limits(set: &[(&'static str, Seen<f64>)], reader: &mut Reader) -> Limits {
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
