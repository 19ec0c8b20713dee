//! How far a member or bar bends under wind.
//!
//! Each is taken as a beam simply supported between the centre lines of the parts it is jointed into,
//! under an even load over all of that span. Both err on the safe side: joints hold somewhat, the load
//! does not reach the joints, and no help is counted from the unit's own stiffness or from bed and bead.
//! The sash is stiff in its own plane, so the axis of bending lies parallel to the glass.
//!
//! A bar that bends or slants between places of its own counts as straight, of its length along the curve,
//! under half of every light that it borders: more than it carries. That a curved bar also twists under
//! wind is not judged.
//!
//! Deflection 5wL⁴/384EI (closed form). Classes: EN 12210, A l/150, B l/200, C l/300.

use super::section::Section;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::geometry::Side;
use crate::glass::strength::PASCAL;
use crate::language::{Text, text};
use crate::sash::{Part, PlacedBar, Sash};
use crate::survey::{Bar, Kind, Limit, Limits, Runs, Wind};
use schemars::JsonSchema;
use serde::Serialize;
use std::fmt;

/// Deflection class of EN 12210.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub enum Class {
    /// At most 1/150 of the span.
    A,
    /// At most 1/200 of the span.
    B,
    /// At most 1/300 of the span.
    C,
}

impl Class {
    /// The best class that a ratio of span over deflection reaches.
    pub fn of(span_over_deflection: f64) -> Option<Class> {
        [(300.0, Class::C), (200.0, Class::B), (150.0, Class::A)]
            .into_iter()
            .find(|(least, _)| span_over_deflection >= *least)
            .map(|(_, class)| class)
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}

/// A beam under wind, before or after the cut.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Bent {
    /// Load, N a mm of span.
    pub load: f64,
    /// At mid span, mm; never more than the span itself, which stands for *nothing left to bend*.
    pub deflection: f64,
    /// Span over deflection; none where there is no wind.
    pub span_over_deflection: Option<f64>,
    /// Deflection class; none where the beam is limper than class A, or where there is no wind.
    pub class: Option<Class>,
}

impl Bent {
    fn new(span: f64, load: f64, modulus: f64, section: &Section) -> Bent {
        if load <= 0.0 {
            return Bent { load: 0.0, deflection: 0.0, span_over_deflection: None, class: None };
        }
        let deflection = deflection(load, span, modulus, section.ix).min(span);
        let ratio = span / deflection;
        Bent { load, deflection, span_over_deflection: Some(ratio), class: Class::of(ratio) }
    }
}

/// 5wL⁴/384EI in mm, of load N/mm, span mm, modulus N/mm² and second moment mm⁴. Infinite where the
/// beam has no stiffness.
pub fn deflection(load: f64, span: f64, modulus: f64, second_moment: f64) -> f64 {
    let stiffness = 384.0 * modulus * second_moment;
    if stiffness > 0.0 { 5.0 * load * span.powi(4) / stiffness } else { f64::INFINITY }
}

/// Bending of one member or bar.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Bending {
    /// Between the centre lines of the parts it is jointed into, mm.
    pub span: f64,
    /// Under its load before the cut.
    pub before: Bent,
    /// Under its load after the cut.
    pub after: Bent,
    /// Whether the frame carries the member along its length, so that it cannot bend.
    pub carried: bool,
}

/// Bending of the member on `side`: it takes half the daylight next to it and its own face.
pub(super) fn of_member(sash: &Sash, side: Side, before: &Section, after: &Section) -> Bending {
    let measured = &sash.measured;
    let width = measured.members.get(side).width;
    let daylight = if side.is_upright() { measured.sight.width } else { measured.sight.height };
    let load = measured.wind.pressure() * PASCAL * (daylight / 2.0 + width);
    let span = span(sash, side.is_upright());
    let bent = |section| Bent::new(span, load, measured.timber.modulus(), section);
    Bending {
        span,
        before: bent(before),
        after: bent(after),
        carried: carried(measured.kind, side),
    }
}

/// Bending of a bar. Before the cut, and with a unit in each light, it takes half of either daylight
/// next to it and its own face. Cut down behind one unit it takes its own face alone: the unit spans
/// the whole sash and hands its load to stiles and rails.
pub(super) fn of_bar(
    sash: &Sash,
    placed: &PlacedBar,
    behind_one_unit: bool,
    before: &Section,
    after: &Section,
) -> Bending {
    let (measured, bar) = (&sash.measured, &placed.measured);
    let (span, beside) = if placed.through {
        (span(sash, bar.runs == Runs::Upright), daylight_beside(sash, bar))
    } else {
        (span_along(sash, placed), lights_beside(sash, placed))
    };
    let pressure = measured.wind.pressure() * PASCAL;
    let carries =
        |width, section| Bent::new(span, pressure * width, measured.timber.modulus(), section);
    let whole = bar.width + beside / 2.0;
    let after_width = if behind_one_unit { bar.width } else { whole };
    Bending {
        span,
        before: carries(whole, before),
        after: carries(after_width, after),
        carried: false,
    }
}

/// Length of a bar of its own course in the daylight, and half of the widest parts at both ends.
fn span_along(sash: &Sash, placed: &PlacedBar) -> f64 {
    let members = sash.measured.members.iter().map(|(_, member)| member.width);
    let widest = members.chain(sash.bars.iter().map(|bar| bar.measured.width)).fold(0.0, f64::max);
    sash.outline.outline().length_inside(&placed.path) + widest
}

/// Mean width of the lights along a bar of its own course: their whole area over its length. A light
/// that it borders only in part counts with all of its area.
fn lights_beside(sash: &Sash, placed: &PlacedBar) -> f64 {
    let length = sash.outline.outline().length_inside(&placed.path);
    let beside = sash.lights.iter().filter(|light| {
        let mut edges = light.outline.edges();
        edges.any(|(edge, side)| sash.along(edge, side) == Part::Bar(placed))
    });
    let area: f64 = beside.map(|light| light.outline.outline().area()).sum();
    if length > 0.0 { area / length } else { 0.0 }
}

/// Both daylights beside a bar, to the next sight edges, mm.
fn daylight_beside(sash: &Sash, bar: &Bar) -> f64 {
    let (low, high) = (bar.centre - bar.width / 2.0, bar.centre + bar.width / 2.0);
    let (mut from, mut to) = match bar.runs {
        Runs::Upright => (sash.sight.x0, sash.sight.x1),
        Runs::Cross => (sash.sight.y0, sash.sight.y1),
    };
    let bars = sash.bars.iter().map(|other| &other.measured);
    for other in bars.filter(|other| other.runs == bar.runs) {
        let (below, above) = (other.centre + other.width / 2.0, other.centre - other.width / 2.0);
        if below <= low {
            from = from.max(below);
        }
        if above >= high {
            to = to.min(above);
        }
    }
    (low - from).max(0.0) + (to - high).max(0.0)
}

/// Daylight and half of the members at both ends.
fn span(sash: &Sash, upright: bool) -> f64 {
    let members = &sash.measured.members;
    if upright {
        sash.sight.height() + f64::midpoint(members.bottom.width, members.top.width)
    } else {
        sash.sight.width() + f64::midpoint(members.left.width, members.right.width)
    }
}

/// Whether the frame backs the member along its length: all of a fixed sash; of a sliding one the
/// stiles in their runs and the rail at head or sill, but never the meeting rail. A hung sash is held
/// at hinges and fastener alone when the wind pulls.
fn carried(kind: Kind, side: Side) -> bool {
    match kind {
        Kind::Fixed => true,
        Kind::SideHung | Kind::TopHung => false,
        Kind::SlidingUpper => side != Side::Bottom,
        Kind::SlidingLower => side != Side::Top,
    }
}

/// Judges a member: `timber.wind`. A carried one is clear whatever the figure says.
pub(super) fn judge_member(
    place: String,
    bending: &Bending,
    wind: &Wind,
    limits: &Limits,
) -> Finding {
    let stop = of_span(bending.span, &limits.span_over_deflection_stop);
    let caution = of_span(bending.span, &limits.span_over_deflection_caution);
    let cure = text!("wind-cure-frame");
    let mut finding = judge(place, bending, wind, Bounds::new(stop, caution), cure);
    if bending.carried {
        finding.verdict = Verdict::Clear;
        finding.advice = text!("wind-carried", change = change(bending), wind = wind.told());
    }
    finding
}

/// Judges a bar: `timber.wind`, at most a caution, since old bars that are limper than any class have
/// stood and panes help them.
pub(super) fn judge_bar(place: String, bending: &Bending, wind: &Wind, limits: &Limits) -> Finding {
    let caution = of_span(bending.span, &limits.span_over_deflection_caution);
    let cure = text!("wind-cure-bar");
    judge(place, bending, wind, Bounds::caution(caution), cure)
}

/// The deflection that a ratio of span over deflection allows, mm.
fn of_span(span: f64, limit: &Limit) -> Bound {
    Bound::from(limit).map(|ratio| span / ratio.max(1.0))
}

fn judge(place: String, bending: &Bending, wind: &Wind, bounds: Bounds, cure: Text) -> Finding {
    let measured = Quantity::mm(bending.after.deflection);
    Finding::at_most("timber.wind", place, measured, bounds, |verdict, _| match verdict {
        Verdict::Clear => text!("wind-stiff", wind = wind.told(), change = change(bending)),
        Verdict::Caution | Verdict::Stop => {
            text!("wind-bends", wind = wind.told(), change = change(bending), cure)
        }
    })
}

/// `bends 1.2 mm, 0.9 mm before the cut, deflection class C`.
fn change(bending: &Bending) -> Text {
    let class = bending.after.class.map_or_else(
        || {
            if bending.after.load > 0.0 { text!("wind-limper") } else { text!("wind-none") }
        },
        |class| text!("wind-class", class = class.to_string()),
    );
    let (before, after) =
        (Quantity::mm(bending.before.deflection), Quantity::mm(bending.after.deflection));
    text!("wind-change", after = after.to_string(), before = before.to_string(), class)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::Sash;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    // Closed form: q .5 N/mm, L 900, E 8900, I 231136.364 gives 2.07645 mm.
    #[test]
    fn deflection_follows_the_closed_form() {
        assert_relative_eq!(deflection(0.5, 900.0, 8900.0, 231_136.364), 2.07645, epsilon = 1e-5);
        assert_eq!(deflection(0.5, 900.0, 8900.0, 0.0), f64::INFINITY);
    }

    // EN 12210 (published): A l/150, B l/200, C l/300.
    #[test]
    fn classes_begin_at_their_ratios() {
        let classes = [149.9, 150.0, 200.0, 299.9, 300.0].map(Class::of);
        assert_eq!(classes, [None, Some(Class::A), Some(Class::B), Some(Class::B), Some(Class::C)]);
    }

    fn section(ix: f64) -> Section {
        Section { ix, area: 1.0, ..Section::default() }
    }

    #[test]
    fn loads_and_spans_come_from_the_daylight() {
        let sash = Sash::new(&casement()).unwrap();
        let stile = of_member(&sash, Side::Left, &section(3e5), &section(2e5));
        assert_relative_eq!(stile.span, 930.0 + 63.0);
        // 800 Pa over half of 820 mm and 52 mm.
        assert_relative_eq!(stile.after.load, 800e-6 * 462.0);
        assert_relative_eq!(stile.after.deflection, stile.before.deflection * 1.5, epsilon = 1e-9);

        // Lights of 257, 262 and 257 mm between bars of 22 mm.
        let placed = &sash.bars[0];
        let both = of_bar(&sash, placed, false, &section(1e5), &section(1e5));
        assert_relative_eq!(both.after.load, 800e-6 * (22.0 + 259.5), epsilon = 1e-12);
        let one = of_bar(&sash, placed, true, &section(1e5), &section(1e4));
        assert_relative_eq!(one.after.load, 800e-6 * 22.0);
        assert_relative_eq!(one.before.load, both.before.load);
    }

    #[test]
    fn nothing_left_bends_by_the_span_and_no_wind_not_at_all() {
        let sash = Sash::new(&casement()).unwrap();
        let gone = of_member(&sash, Side::Left, &section(3e5), &section(0.0));
        assert_relative_eq!(gone.after.deflection, gone.span);
        let limits = Limits::default();
        assert_eq!(
            judge_member("left stile".into(), &gone, &Wind::Assumed, &limits).verdict,
            Verdict::Stop
        );
        let mut calm = casement();
        calm.wind = Wind::Stated(0.0);
        let calm = of_member(&Sash::new(&calm).unwrap(), Side::Left, &section(3e5), &section(0.0));
        assert_eq!((calm.after.deflection, calm.after.span_over_deflection), (0.0, None));
        assert_eq!(
            judge_member("left stile".into(), &calm, &Wind::Assumed, &limits).verdict,
            Verdict::Clear
        );
    }

    #[test]
    fn only_what_the_frame_does_not_carry_can_stop_the_work() {
        let limits = Limits::default();
        let mut survey = casement();
        let mut verdict = |kind, side| {
            survey.kind = kind;
            let bending =
                of_member(&Sash::new(&survey).unwrap(), side, &section(3e5), &section(1.0));
            judge_member(String::new(), &bending, &Wind::Assumed, &limits).verdict
        };
        assert_eq!(verdict(Kind::SideHung, Side::Left), Verdict::Stop);
        assert_eq!(verdict(Kind::SlidingUpper, Side::Left), Verdict::Clear);
        assert_eq!(verdict(Kind::SlidingUpper, Side::Bottom), Verdict::Stop);
        assert_eq!(verdict(Kind::SlidingLower, Side::Top), Verdict::Stop);
        assert_eq!(verdict(Kind::Fixed, Side::Top), Verdict::Clear);
    }
}
