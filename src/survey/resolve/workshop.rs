//! The workshop's settings over their defaults.

use super::sight::Open;
use super::unit::make;
use crate::geometry::COINCIDENT;
use crate::input::{Optional, Reader, Spanned, show};
use crate::language::Language;
use crate::survey::file::workshop::{
    AllowancesTable, CandidatesTable, CornerCutterTable, CutterTable, CuttingTable, HolderTable,
    MachineTable, OfferedTable, OverhangTable, PrinterTable, RouterTable, WorkshopTable,
};
use crate::survey::values::{
    Allowances, Bearing, Candidates, Cutter, CutterKind, Cutting, Holder, Limit, Limits, Machine,
    Make, Offered, Overhang, Printer, Router, Spelling, Workshop,
};

/// The workshop of a table, every setting that it leaves out at its default.
pub(super) fn workshop(
    table: &WorkshopTable,
    open: &Open<'_>,
    reader: &mut Reader<'_>,
) -> Workshop {
    let cutter = cutter(&table.cutter.value_or_default(), reader);
    let machine = table.machine.value_or_default();
    let thinner = machine.corner_cutter.as_ref();
    let corner_cutter = thinner.and_then(|given| corner_cutter(given, &cutter, reader));
    Workshop {
        machine: Machine { corner_cutter, ..(&*machine).into() },
        cutter,
        router: (&*table.router.value_or_default()).into(),
        printer: printer(&table.printer.value_or_default(), open, reader),
        cutting: (&*table.cutting.value_or_default()).into(),
        allowances: (&*table.allowances.value_or_default()).into(),
        candidates: (&*table.candidates.value_or_default()).into(),
        limits: limits(&table.limits.value_or_default().set, reader),
    }
}

/// Values whose fields are the keys of a table; the default is that of a table in which nothing is said, so
/// that each stands once, at its key.
macro_rules! settings {
    ($($value:ident, $table:ident { $($key:ident),+ $(; $($field:ident: $make:expr),+)? })+) => {$(
        impl From<&$table> for $value {
            fn from(table: &$table) -> Self {
                $value { $($key: table.$key(),)+ $($($field: $make(table),)+)? }
            }
        }

        impl Default for $value {
            fn default() -> Self {
                $value::from(&$table::default())
            }
        }
    )+};
}

settings! {
    Cutter, CutterTable { diameter, flutes, cutting_length, shank_diameter; holder: |_| None }
    Router, RouterTable { base_diameter, guide_bush, guided_by, plate; bearing: bearing }
    Printer, PrinterTable { paper, roll_width, margin, overlap, template, inches; language: language }
    Machine, MachineTable {
        bed, max_feed, max_plunge, rapid, spindle, spindle_slowest, spindle_wait, spoil_board, programs;
        clear_height: |table: &MachineTable| table.clear_height.value(),
        corner_cutter: |_| None,
        zero: |table: &MachineTable| table.zero.value(),
        overhang: |table: &MachineTable| overhang(&table.overhang.value_or_default())
    }
    Cutting, CuttingTable {
        step_depth, widen_step, side_step, score_depth, finish_allowance, chip_load, direction,
        tolerance, zero_error
    }
    Allowances, AllowancesTable {
        measuring, cutting, moisture_now, moisture_most, glass_now, glass_hot
    }
    Candidates, CandidatesTable { usual; units: units }
}

/// The language of a file, if one is named.
fn printer(table: &PrinterTable, open: &Open<'_>, reader: &mut Reader<'_>) -> Printer {
    let printer = Printer::from(table);
    let Some(name) = &table.words_file else { return printer };
    let language = open(name).and_then(|bytes| {
        Language::of_file(&bytes).map_err(|error| format!("{}, {error}", name.value))
    });
    match language {
        Ok(language) => Printer { language, ..printer },
        Err(why) => {
            let expected = "the name of a file with the texts of sheets in another language";
            reader.contradict(&name.place, expected.to_owned(), &why);
            printer
        }
    }
}

fn language(table: &PrinterTable) -> &'static Language {
    match table.words() {
        Spelling::British => Language::british(),
        Spelling::American => Language::american(),
    }
}

fn cutter(table: &CutterTable, reader: &mut Reader<'_>) -> Cutter {
    refuse_kind(table.kind.as_ref(), reader);
    let holder = table.holder.as_ref();
    let holder = holder.and_then(|given| holds(given, table.cutting_length(), reader));
    Cutter { holder, ..table.into() }
}

/// The thinner cutter for the corners that `cutter` leaves round.
fn corner_cutter(
    table: &CornerCutterTable,
    cutter: &Cutter,
    reader: &mut Reader<'_>,
) -> Option<Cutter> {
    refuse_kind(table.kind.as_ref(), reader);
    let (diameter, edges) = (table.diameter.as_ref()?, table.cutting_length.as_ref()?);
    if diameter.value > cutter.diameter - COINCIDENT {
        let expected = format!("less than {} mm, the cutter's own diameter", show(cutter.diameter));
        reader.contradict(
            &diameter.place,
            expected,
            "it is for the corners that the cutter leaves round",
        );
    }
    let holder = table.holder.as_ref();
    Some(Cutter {
        diameter: diameter.value,
        flutes: table.flutes.value_or(cutter.flutes),
        cutting_length: edges.value,
        shank_diameter: table.shank_diameter.value_or(diameter.value),
        holder: holder.and_then(|given| holds(given, edges.value, reader)),
    })
}

/// Only a flat end leaves a platform and a wall that a unit can lie on and beside.
fn refuse_kind(kind: Option<&Spanned<CutterKind>>, reader: &mut Reader<'_>) {
    let Some(kind) = kind else { return };
    let hint = match kind.value {
        CutterKind::Flat => return,
        CutterKind::BullNosed | CutterKind::BallNosed => {
            "a rounded end leaves a round between platform and wall, and the unit would stand on it"
        }
        CutterKind::Bearing => {
            "a bearing runs where the wood leads it, and no program; one on a hand router stands in workshop.router"
        }
    };
    reader.contradict(&kind.place, "a flat-ended cutter: kind = \"flat\"".into(), hint);
}

/// What holds a cutter whose edges are that long.
fn holds(given: &HolderTable, edges: f64, reader: &mut Reader<'_>) -> Option<Holder> {
    let (diameter, stick_out) = (given.diameter.as_ref()?, given.stick_out.as_ref()?);
    if stick_out.value < edges - COINCIDENT {
        let expected = format!("at least {} mm, the length of the cutting edges", show(edges));
        reader.contradict(&stick_out.place, expected, "the edges stand out of the holder");
    }
    Some(Holder { diameter: diameter.value, stick_out: stick_out.value })
}

/// Height of upright wood that a bearing runs on, mm. Common practice, no source.
const USUAL_BEARING: f64 = 5.0;

fn bearing(table: &RouterTable) -> Option<Bearing> {
    let bearing = table.bearing.as_ref()?;
    let diameter = bearing.diameter.as_ref()?.value;
    Some(Bearing { diameter, height: bearing.height.value_or(USUAL_BEARING) })
}

fn overhang(table: &OverhangTable) -> Overhang {
    Overhang {
        left: table.left.value(),
        right: table.right.value(),
        front: table.front.value(),
        back: table.back.value(),
    }
}

/// Sets the limits; a caution that can never come before its stop is a slip.
fn limits(set: &[(&'static str, Spanned<f64>)], reader: &mut Reader<'_>) -> Limits {
    let (mut limits, mut usual) = (Limits::default(), Limits::default());
    for (name, value) in set {
        if let Some(limit) = limits.by_name(name) {
            *limit = Limit::set(value.value);
        }
    }
    for (name, value) in set {
        let Some(stem) = name.strip_suffix("_caution") else { continue };
        let stop_name = &format!("{stem}_stop");
        let Some(stop) = limits.by_name(stop_name).map(|stop| stop.value) else { continue };
        // Some are judged by how much there is, others by how little is left: their usual values tell.
        let [care, end] =
            [*name, stop_name].map(|name| usual.by_name(name).map(|usual| usual.value));
        let (wrong, side) = if care < end {
            (value.value > stop, "at most")
        } else {
            (value.value < stop, "at least")
        };
        if wrong {
            let expected = format!("{side} {}, the value of {stop_name}", show(stop));
            reader.contradict(&value.place, expected, "caution must come before stop");
        }
    }
    limits
}

fn units(table: &CandidatesTable) -> Vec<Offered> {
    table.units.iter().flat_map(|units| units.iter()).filter_map(|unit| offered(unit)).collect()
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
