//! Rules of motion that need no wood: feeds, spindle, heights, bed, end.

use crate::finding::{Basis, Quantity};
use crate::geometry::Placement;
use crate::language::{Text, text};
use crate::prove::Setup;
use crate::prove::fault::{Faults, NewFault};
use crate::prove::motion::{Move, Pace, Spindle};
use crate::prove::reader::Read;
use crate::prove::tolerance::FEED_ROUNDING;
use kurbo::Rect;

/// A program's index and name.
pub(super) type Name<'a> = (usize, &'a str);

const MINUTE: &str = "mm/min";
const TURNS: &str = "1/min";

/// Where the axis goes in every place that the sash is put down in.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Extents {
    /// The place, and bounds of all paths there.
    places: Vec<(Placement, Rect)>,
}

impl Extents {
    /// Adds a path's bounds.
    pub(super) fn add(&mut self, around: Rect, place: Placement) {
        match self.places.iter_mut().rev().find(|(of, _)| *of == place) {
            Some((_, bounds)) => *bounds = bounds.union(around),
            None => self.places.push((place, around)),
        }
    }
}

/// A fault about a move.
pub(super) fn fault_of<'a>(
    rule: &'static str,
    program: Name<'a>,
    mv: &Move,
    measured: Quantity,
    limit: Quantity,
    advice: Text,
) -> NewFault<'a> {
    let at = mv.path.end();
    NewFault {
        program: Some(program),
        line: Some(mv.line),
        at: Some([at.x, at.y, mv.to_z]),
        ..NewFault::new(rule, measured, limit, advice)
    }
}

fn per_minute(value: f64) -> Quantity {
    Quantity { value, unit: MINUTE }
}

/// Judges a move by itself; `top` is that of the wood.
pub(super) fn motion(
    mv: &Move,
    program: Name,
    place: Placement,
    (setup, top): (&Setup, f64),
    faults: &mut Faults,
) {
    feed(mv, program, setup, faults);
    // Above all wood a spindle may stand still: so a joiner sees where the machine will go.
    if mv.low() < top {
        spindle(mv, program, setup, faults);
    }
    below_the_sash(mv, program, setup, faults);
    let bounds = mv.path.bounds();
    if let Some(bed) = setup.bed_area.map(|bed| place.inverse().local_rect(bed)) {
        let over = (bed.x0 - bounds.x0)
            .max(bed.y0 - bounds.y0)
            .max(bounds.x1 - bed.x1)
            .max(bounds.y1 - bed.y1);
        if over > setup.tolerance {
            let advice = text!("prove-bed");
            let (over, none) = (Quantity::mm(over), Quantity::mm(0.0));
            faults.add(fault_of("prove.bed", program, mv, over, none, advice));
        }
    }
}

/// Whether a move goes below the sash, where the bed is.
fn below_the_sash(mv: &Move, program: Name, setup: &Setup, faults: &mut Faults) {
    let Some(floor) = setup.floor.filter(|floor| mv.low() < floor - setup.tolerance) else {
        return;
    };
    let advice = text!(
        "prove-floor",
        deep = format!("{:.1}", -mv.low()),
        into = format!("{:.1}", floor - mv.low()),
        floor = format!("{:.1}", -floor)
    );
    let (deep, limit) = (Quantity::mm(-mv.low()), Quantity::mm(-floor));
    let fault = fault_of("prove.floor", program, mv, deep, limit, advice);
    faults.add(NewFault { basis: Basis::Geometry, ..fault });
}

fn feed(mv: &Move, program: Name, setup: &Setup, faults: &mut Faults) {
    let Pace::Feed(feed) = mv.pace else { return };
    let mut add = |measured, limit, advice| {
        let (measured, limit) = (per_minute(measured), per_minute(limit));
        faults.add(fault_of("prove.feed", program, mv, measured, limit, advice));
    };
    if feed <= 0.0 {
        add(feed, setup.max_feed, text!("prove-no-feed"));
    }
    if feed > setup.max_feed * FEED_ROUNDING {
        add(feed, setup.max_feed, text!("prove-fast"));
    }
    let down = feed * mv.fall().to_radians().sin();
    if down > setup.max_plunge * FEED_ROUNDING {
        add(down, setup.max_plunge, text!("prove-fast-down"));
    }
}

fn spindle(mv: &Move, program: Name, setup: &Setup, faults: &mut Faults) {
    let [slowest, fastest] = setup.spindle;
    let (speed, limit, advice) = match mv.spindle {
        Spindle::Still => (0.0, slowest, text!("prove-still")),
        Spindle::Anticlockwise(speed) => (-speed, slowest, text!("prove-backwards")),
        Spindle::Clockwise(speed) if speed < slowest => {
            (speed, slowest, text!("prove-slow-spindle"))
        }
        Spindle::Clockwise(speed) if speed > fastest => {
            (speed, fastest, text!("prove-fast-spindle"))
        }
        Spindle::Clockwise(_) => return,
    };
    let (speed, limit) =
        (Quantity { value: speed, unit: TURNS }, Quantity { value: limit, unit: TURNS });
    faults.add(fault_of("prove.spindle", program, mv, speed, limit, advice));
}

/// Whether a rapid move is where rapid moves may be: never sideways below the clear height, and
/// never down to below it. Straight up from anywhere is fine.
pub(super) fn rapid_is_high(mv: &Move, setup: &Setup) -> bool {
    let floor = setup.clear_height - setup.tolerance;
    let rises = mv.is_upright() && !mv.arrival && mv.to_z >= mv.from_z;
    mv.low() >= floor || rises
}

/// Judges a program's beginning, pauses and end.
pub(super) fn frame(read: &Read, program: Name, setup: &Setup, faults: &mut Faults) {
    let floor = setup.clear_height - setup.tolerance;
    for rounding in &read.roundings {
        if rounding.by > setup.tolerance * FEED_ROUNDING {
            let (by, most) = (Quantity::mm(rounding.by), Quantity::mm(setup.tolerance));
            let advice = text!("prove-rounding", most = setup.tolerance.to_string());
            let fault = NewFault::new("prove.rounding", by, most, advice);
            faults.add(NewFault { program: Some(program), line: Some(rounding.line), ..fault });
        }
    }
    let mut low = |rule, line, z: Option<f64>, advice: Text| {
        if z.is_none_or(|z| z < floor) {
            let measured = z.unwrap_or(f64::MIN_POSITIVE);
            let (measured, limit) = (Quantity::mm(measured), Quantity::mm(setup.clear_height));
            let fault = NewFault::new(rule, measured, limit, advice);
            faults.add(NewFault { program: Some(program), line: Some(line), ..fault });
        }
    };
    for &(line, z) in &read.raises {
        low("prove.start", line, Some(z), text!("prove-raise"));
    }
    for pause in &read.pauses {
        low("prove.pause", pause.line, pause.z, text!("prove-raise-pause"));
    }
    let end = read.end;
    if let Some(end) = end {
        low("prove.end", end.line, end.z, text!("prove-raise-end"));
    }
    let unfinished = match end {
        None => Some((read.lines, text!("prove-cut-off"))),
        Some(end) if end.spindle != Spindle::Still => Some((end.line, text!("prove-stop-spindle"))),
        Some(_) => None,
    };
    if let Some((line, advice)) = unfinished {
        let count = |value| Quantity { value, unit: "" };
        faults.add(NewFault {
            program: Some(program),
            line: Some(line),
            weight: f64::MAX,
            basis: Basis::CommonPractice,
            ..NewFault::new("prove.end", count(1.0), count(0.0), advice)
        });
    }
}

/// Judges whether all programs of a place together fit the machine's travel, wherever its zero is.
pub(super) fn travel(extents: &Extents, setup: &Setup, faults: &mut Faults) {
    let spans = extents.places.iter().flat_map(|(_, bounds)| {
        [("X", bounds.width(), setup.travel[0]), ("Y", bounds.height(), setup.travel[1])]
    });
    for (axis, span, travel) in spans {
        if span > travel + setup.tolerance {
            let advice = text!("prove-travel", axis);
            let (span, travel) = (Quantity::mm(span), Quantity::mm(travel));
            faults.add(NewFault::new("prove.bed", span, travel, advice));
        }
    }
}
