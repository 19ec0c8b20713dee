//! The workshop's settings over their defaults.

use super::unit::make;
use crate::geometry::SAME;
use crate::input::{Optional, Reader, Spanned, show};
use crate::survey::file::workshop::{
    AllowancesTable, CandidatesTable, CutterTable, CuttingTable, MachineTable, OfferedTable,
    OverhangTable, PrinterTable, RouterTable, WorkshopTable,
};
use crate::survey::values::{
    Allowances, Bearing, Candidates, Cutter, Cutting, Holder, Limit, Limits, Machine, Make,
    Offered, Overhang, Printer, Router, Workshop,
};

/// The workshop of a table, every setting that it leaves out at its default.
pub(super) fn workshop(table: &WorkshopTable, reader: &mut Reader<'_>) -> Workshop {
    Workshop {
        cutter: cutter(&table.cutter.value_or_default(), reader),
        router: router(&table.router.value_or_default()),
        printer: printer(&table.printer.value_or_default()),
        machine: machine(&table.machine.value_or_default()),
        cutting: cutting(&table.cutting.value_or_default()),
        allowances: allowances(&table.allowances.value_or_default()),
        candidates: candidates(&table.candidates.value_or_default()),
        limits: limits(&table.limits.value_or_default().set, reader),
    }
}

// Of a table in which nothing is said: so each default stands once, at its key.
macro_rules! defaults {
    ($($value:ident = $make:ident($table:ident);)+) => {$(
        impl Default for $value {
            fn default() -> Self {
                $make(&$table::default())
            }
        }
    )+};
}

defaults! {
    Cutter = plain_cutter(CutterTable);
    Router = router(RouterTable);
    Printer = printer(PrinterTable);
    Machine = machine(MachineTable);
    Cutting = cutting(CuttingTable);
    Allowances = allowances(AllowancesTable);
    Candidates = candidates(CandidatesTable);
}

fn cutter(table: &CutterTable, reader: &mut Reader<'_>) -> Cutter {
    let holder = table.holder.as_ref().and_then(|seen| {
        let (diameter, stick_out) = (seen.diameter.as_ref()?, seen.stick_out.as_ref()?);
        let edges = table.cutting_length();
        if stick_out.value < edges - SAME {
            let expected = format!("at least {} mm, the length of the cutting edges", show(edges));
            reader.contradict(&stick_out.place, expected, "the edges stand out of the holder");
        }
        Some(Holder { diameter: diameter.value, stick_out: stick_out.value })
    });
    Cutter { holder, ..plain_cutter(table) }
}

fn plain_cutter(table: &CutterTable) -> Cutter {
    Cutter {
        diameter: table.diameter(),
        flutes: table.flutes(),
        cutting_length: table.cutting_length(),
        shank_diameter: table.shank_diameter(),
        holder: None,
    }
}

/// Height of upright wood that a bearing runs on, mm. Common practice, no source.
const USUAL_BEARING: f64 = 5.0;

fn router(table: &RouterTable) -> Router {
    Router {
        base_diameter: table.base_diameter(),
        guide_bush: table.guide_bush(),
        guided_by: table.guided_by(),
        plate: table.plate(),
        bearing: table.bearing.as_ref().and_then(|bearing| {
            let diameter = bearing.diameter.as_ref()?.value;
            Some(Bearing { diameter, height: bearing.height.value_or(USUAL_BEARING) })
        }),
    }
}

fn printer(table: &PrinterTable) -> Printer {
    Printer {
        paper: table.paper(),
        roll_width: table.roll_width(),
        margin: table.margin(),
        overlap: table.overlap(),
    }
}

fn machine(table: &MachineTable) -> Machine {
    Machine {
        bed: table.bed(),
        clear_height: table.clear_height(),
        max_feed: table.max_feed(),
        max_plunge: table.max_plunge(),
        rapid: table.rapid(),
        spindle: table.spindle(),
        spindle_slowest: table.spindle_slowest(),
        zero: table.zero.value(),
        overhang: overhang(&table.overhang.value_or_default()),
    }
}

fn overhang(table: &OverhangTable) -> Overhang {
    Overhang {
        left: table.left.value(),
        right: table.right.value(),
        front: table.front.value(),
        back: table.back.value(),
    }
}

fn cutting(table: &CuttingTable) -> Cutting {
    Cutting {
        step_depth: table.step_depth(),
        widen_step: table.widen_step(),
        side_step: table.side_step(),
        score_depth: table.score_depth(),
        finish_allowance: table.finish_allowance(),
        chip_load: table.chip_load(),
        direction: table.direction(),
        tolerance: table.tolerance(),
        zero_error: table.zero_error(),
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

fn allowances(table: &AllowancesTable) -> Allowances {
    Allowances {
        measuring: table.measuring(),
        cutting: table.cutting(),
        moisture_now: table.moisture_now(),
        moisture_most: table.moisture_most(),
        glass_now: table.glass_now(),
        glass_hot: table.glass_hot(),
    }
}

fn candidates(table: &CandidatesTable) -> Candidates {
    let units = table.units.iter().flat_map(|seen| seen.iter());
    Candidates { usual: table.usual(), units: units.filter_map(|seen| offered(seen)).collect() }
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
