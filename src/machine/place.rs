//! How a sash larger than the travel lies on the machine for one set-up.
//!
//! The window begins at the free end of the travel, and what is not cut reaches past the travel on every
//! side. Where a side is closed, as by a gantry's uprights or a wall, the sash is moved along, as far as
//! the window then still lies within the travel, or turned by half a turn.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::geometry::Placement;
use crate::language::text;
use crate::survey::{Machine, Workshop};
use kurbo::Rect;

/// Travel left free at each of its ends, mm, so that no switch is run into where the sash is placed a
/// little off (common practice, no source).
pub(super) const FREE: f64 = 5.0;

/// What whole millimetres of the origin may take off the travel.
pub(super) const ROUNDED: f64 = 1.0;

/// One place of the sash on the machine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetUp {
    /// From 1, in the order of the work.
    pub number: usize,
    /// How the sash lies as seen from the machine's X0 Y0; the origin in whole mm.
    pub place: Placement,
    /// Where the cutter's centre goes, in the sash's frame.
    pub window: Rect,
}

/// How far the sash reaches past the travel on the side where room is shortest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Overhang {
    side: &'static str,
    by: f64,
    room: f64,
}

impl Overhang {
    fn lacks(&self) -> f64 {
        self.by - self.room
    }

    /// `machine.overhang`.
    pub(super) fn finding(&self) -> Finding {
        let bounds = Bounds::stop(Bound::geometry(self.room));
        let place = format!("{} of the machine", self.side);
        Finding::at_most("machine.overhang", place, Quantity::mm(self.by), bounds, |verdict, _| {
            match verdict {
                Verdict::Clear => text!("machine-overhang-fine"),
                _ => {
                    text!("machine-overhang")
                }
            }
        })
    }

    /// The worse of two.
    pub(super) fn worse(a: Option<Overhang>, b: Option<Overhang>) -> Option<Overhang> {
        a.into_iter().chain(b).max_by(|a, b| a.lacks().total_cmp(&b.lacks()))
    }
}

/// How the sash lies for a window: as it is if there is room on every side, or else turned, or else as it
/// is; with it, where a side is closed, the side with the least room to spare.
pub(super) fn place_on_machine(
    window: Rect,
    outer: Rect,
    workshop: &Workshop,
) -> (Placement, Option<Overhang>) {
    let [as_it_is, turned] = [false, true].map(|turned| lie(window, outer, turned, workshop));
    let lacks =
        |(_, past): &(Placement, Option<Overhang>)| past.is_some_and(|past| past.lacks() > 0.0);
    if lacks(&as_it_is) && !lacks(&turned) { turned } else { as_it_is }
}

fn lie(
    window: Rect,
    outer: Rect,
    turned: bool,
    workshop: &Workshop,
) -> (Placement, Option<Overhang>) {
    let Machine { bed, zero, overhang, .. } = &workshop.machine;
    // Seen from the machine, a turned sash runs the other way.
    let seen = Placement { turned, ..Placement::IDENTITY };
    let (window, outer) = (seen.local_rect(window), seen.local_rect(outer));
    // Where the machine's zero lies in the travel is known, or else it is the window's own corner.
    let begins = zero.map_or([-FREE; 2], |zero| zero.map(|before| -before));
    let x = Axis {
        window: [window.x0, window.x1],
        sash: [outer.x0, outer.x1],
        travel: bed[0],
        rooms: [overhang.left, overhang.right],
    };
    let y = Axis {
        window: [window.y0, window.y1],
        sash: [outer.y0, outer.y1],
        travel: bed[1],
        rooms: [overhang.front, overhang.back],
    };
    let past = Overhang::worse(x.overhang(["left", "right"]), y.overhang(["front", "back"]));
    // What is seen at the zero, in whole millimetres; of a turned sash it is as far the other way.
    let at = [x.at_begin() - begins[0], y.at_begin() - begins[1]].map(f64::floor);
    let origin = if turned { at.map(|at| -at) } else { at };
    (Placement { origin, turned }, past)
}

/// One axis as the machine sees it.
struct Axis {
    /// From and to.
    window: [f64; 2],
    sash: [f64; 2],
    travel: f64,
    /// Room past its beginning and its end, where it is closed.
    rooms: [Option<f64>; 2],
}

impl Axis {
    /// How far of the sash lies before the travel where the window begins at its free end.
    fn first(&self) -> f64 {
        self.window[0] - self.sash[0] - FREE
    }

    /// How far the sash is moved on to have room there, while the window still lies within the travel.
    fn moved(&self) -> f64 {
        let slack = self.travel - 2.0 * FREE - ROUNDED - (self.window[1] - self.window[0]);
        self.rooms[0].map_or(0.0, |room| (self.first() - room).clamp(0.0, slack.max(0.0)))
    }

    /// What of the sash lies at the beginning of the travel.
    fn at_begin(&self) -> f64 {
        self.window[0] - FREE - self.moved()
    }

    /// The closed side with the least room to spare.
    fn overhang(&self, names: [&'static str; 2]) -> Option<Overhang> {
        let first = self.first() - self.moved();
        // Whole millimetres round so that the sash lies up to one further on.
        let last = self.sash[1] - self.sash[0] - self.travel - first + ROUNDED;
        let [before, behind] = self.rooms;
        let side = |room: Option<f64>, by: f64, side| {
            room.map(|room| Overhang { side, by: by.max(0.0), room })
        };
        Overhang::worse(side(before, first, names[0]), side(behind, last, names[1]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey;

    /// A sash 900 by 2000 mm of which the cutter reaches all but 50 mm on each side, in two windows one
    /// above the other, on a travel of 1200 by 1100.
    fn tall() -> (Rect, [Rect; 2], Workshop) {
        let outer = Rect::new(0.0, 0.0, 900.0, 2000.0);
        let windows = [Rect::new(50.0, 50.0, 850.0, 1020.0), Rect::new(50.0, 980.0, 850.0, 1950.0)];
        let mut workshop = Workshop::default();
        workshop.machine.bed = [1200.0, 1100.0];
        (outer, windows, workshop)
    }

    #[test]
    fn where_no_side_is_closed_the_window_begins_at_the_free_end() {
        let (outer, [low, high], mut workshop) = tall();
        let at = |origin| (Placement { origin, turned: false }, None);
        assert_eq!(place_on_machine(low, outer, &workshop), at([50.0, 50.0]));
        assert_eq!(place_on_machine(high, outer, &workshop), at([50.0, 980.0]));
        workshop.machine.zero = Some([100.0, 50.0]);
        assert_eq!(place_on_machine(high, outer, &workshop), at([145.0, 1025.0]));
    }

    // By hand: the back has room for 60 mm. Of the lower window 2000 − 50 + 5 − 1100 = 855 mm would reach
    // past it: turned, its own end does. There 45 mm lie in front of the travel, which has room, and the
    // sash's upper end 855 mm.
    #[test]
    fn a_closed_back_turns_the_lower_half() {
        let (outer, [low, high], mut workshop) = tall();
        workshop.machine.overhang =
            survey::Overhang { back: Some(60.0), ..survey::Overhang::default() };
        let (place, past) = place_on_machine(low, outer, &workshop);
        assert_eq!(place, Placement { origin: [850.0, 1020.0], turned: true });
        assert_eq!(place.local_rect(low), Rect::new(0.0, 0.0, 800.0, 970.0));
        // The upper edge of what is seen is the sash's lower one, at 1020 − 0; the travel ends at 1095.
        assert_eq!(past, Some(Overhang { side: "back", by: 0.0, room: 60.0 }));
        assert!(!place_on_machine(high, outer, &workshop).0.turned);
        // With the front closed too nothing helps.
        workshop.machine.overhang.front = Some(60.0);
        let (place, past) = place_on_machine(low, outer, &workshop);
        assert!(!place.turned);
        let past = past.unwrap();
        assert_eq!((past.side, past.by), ("back", 856.0));
        assert_eq!(past.finding().verdict, Verdict::Stop);
    }

    // By hand: 45 mm would lie past the left side, which is closed; the travel is 389 mm longer than the
    // window, so the sash is moved on by 45.
    #[test]
    fn beside_a_closed_side_the_sash_is_moved_along() {
        let (outer, [low, _], mut workshop) = tall();
        workshop.machine.overhang =
            survey::Overhang { left: Some(0.0), ..survey::Overhang::default() };
        let (place, past) = place_on_machine(low, outer, &workshop);
        assert_eq!(place, Placement { origin: [5.0, 50.0], turned: false });
        // The travel begins 5 mm before the zero, and there the sash begins.
        assert_eq!(place.local_rect(outer).x0, -5.0);
        assert_eq!(past, Some(Overhang { side: "left", by: 0.0, room: 0.0 }));
        assert_eq!(past.unwrap().finding().verdict, Verdict::Clear);
    }
}
