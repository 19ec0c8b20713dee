//! The cross-section of a member or bar: a rectangle, its mouldings, and the rebates cut from it.
//!
//! X runs from the sight edge into the wood (for a bar from its left or lower sight edge), Z is zero on
//! the glazing face and negative towards the room, as everywhere.

use super::section::{Moments, Section};
use crate::geometry::COINCIDENT;
use crate::sash::{Profile, Stretch, wood_under};
use crate::survey::{Bar, CordGroove, Member, Moulding, OldGlazing};
use kurbo::Point;
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;

/// How closely straight pieces follow a moulding, mm: far finer than old wood can be measured.
const FLATTEN: f64 = 1e-4;

/// A rectangle of missing wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Gap {
    from: f64,
    to: f64,
    /// Z range without wood.
    missing: Stretch,
}

impl Gap {
    /// An open rebate of `depth` mm between two distances from the sight edge.
    pub(super) fn rebate(from: f64, to: f64, depth: f64) -> Gap {
        Gap { from, to, missing: Stretch { top: 0.0, bottom: -depth } }
    }

    /// The old rebate or groove as it is.
    fn old(old: &OldGlazing) -> Gap {
        Gap { from: 0.0, to: old.width(), missing: old.gap() }
    }
}

/// Wood under a platform where it is least.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Least {
    /// Platform to moulding, mm; zero or negative where the platform breaks into the moulding.
    pub wood: f64,
    /// Where, mm from the sight edge.
    pub from_sight: f64,
    /// Whether an old rebate, and not the new one, is the deeper there.
    pub by_old: bool,
    /// What the old rebate alone leaves at its least, mm: a shallower new one leaves no more.
    pub most: f64,
}

/// A cross-section.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct CrossSection {
    blank: Arc<Blank>,
    pub(super) gaps: Vec<Gap>,
    /// A groove in the outer edge, which is no platform.
    groove: Option<Gap>,
}

/// A cross-section without its gaps.
#[derive(Debug, PartialEq)]
struct Blank {
    width: f64,
    thickness: f64,
    /// Whether the far edge is moulded as well, as a bar's is.
    both_sides: bool,
    /// The moulding.
    profile: Profile,
    /// The room-side surface over the whole width as straight pieces, Y above the room face. Each half
    /// of a bar is shaped by the moulding on its own side.
    surface: Vec<Point>,
}

impl Blank {
    fn new(width: f64, thickness: f64, moulding: &Moulding, both_sides: bool) -> Arc<Blank> {
        let profile = Profile::new(moulding);
        let surface = flattened(&profile, width, both_sides);
        Arc::new(Blank { width, thickness, both_sides, profile, surface })
    }
}

impl CrossSection {
    /// A member before it is cut.
    pub(super) fn member(member: &Member) -> CrossSection {
        CrossSection {
            blank: Blank::new(member.width, member.thickness, &member.moulding, false),
            gaps: vec![Gap::old(&member.old)],
            groove: None,
        }
    }

    /// With a cord groove in its outer edge, where that runs.
    #[must_use]
    pub(super) fn grooved(mut self, groove: Option<CordGroove>) -> CrossSection {
        let edge = self.blank.width;
        self.groove = groove.map(|CordGroove { depth, width, from_face, .. }| Gap {
            from: edge - depth,
            to: edge,
            missing: Stretch { top: -from_face, bottom: -from_face - width },
        });
        self
    }

    /// A member with its new rebate. A groove has lost its back lip.
    pub(super) fn member_cut(&self, old: &OldGlazing, width: f64, depth: f64) -> CrossSection {
        let old = Gap::rebate(0.0, old.width(), old.depth());
        CrossSection { gaps: vec![old, Gap::rebate(0.0, width, depth)], ..self.clone() }
    }

    /// A bar before it is cut.
    pub(super) fn bar(bar: &Bar) -> CrossSection {
        let rebates = [(0.0, bar.rebate_width), (bar.width - bar.rebate_width, bar.width)];
        CrossSection {
            blank: Blank::new(bar.width, bar.thickness, &bar.moulding, true),
            gaps: rebates.map(|(from, to)| Gap::rebate(from, to, bar.rebate_depth)).to_vec(),
            groove: None,
        }
    }

    /// A bar after `cuts` as well.
    pub(super) fn bar_cut(&self, cuts: impl IntoIterator<Item = Gap>) -> CrossSection {
        let mut section = self.clone();
        section.gaps.extend(cuts);
        section
    }

    /// Area, centroid and second moments of the wood, mouldings taken away.
    pub(super) fn section(&self) -> Section {
        let mut sum = Moments::default();
        for (from, to) in self.stripes() {
            for wood in self.wood(from, to) {
                let top = wood.top + self.blank.thickness;
                let bottom = wood.bottom + self.blank.thickness;
                sum += Moments::of_ring(&stripe(&self.blank.surface, (from, to), (bottom, top)));
            }
        }
        sum.section()
    }

    /// Area of the wood within a range of Z as if mouldings were square, mm².
    pub(super) fn area_within(&self, range: Stretch) -> f64 {
        self.area_within_beyond(range, 0.0)
    }

    /// As [`CrossSection::area_within`], of the wood more than `beyond` mm from the sight edge.
    pub(super) fn area_within_beyond(&self, range: Stretch, beyond: f64) -> f64 {
        let in_stripe = |(from, to): (f64, f64)| {
            let shared =
                self.wood(from, to).into_iter().filter_map(|wood| wood.intersection(range));
            (to - from.max(beyond)).max(0.0)
                * shared.map(|wood| wood.top - wood.bottom).sum::<f64>()
        };
        self.stripes().into_iter().map(in_stripe).sum()
    }

    /// The least wood under any platform; `depth` is that of the new one, `uncut` the section before it. `None` where
    /// nothing is cut.
    pub(super) fn least(&self, depth: f64, uncut: &CrossSection) -> Option<Least> {
        let most = uncut.platforms().map(|(_, _, wood)| wood).fold(f64::INFINITY, f64::min);
        let mut least: Option<Least> = None;
        for (stripe, deepest, wood) in self.platforms() {
            if least.is_none_or(|other| wood < other.wood) {
                let from_sight = highest(&self.blank.surface, stripe);
                let by_old = deepest > depth + COINCIDENT;
                least = Some(Least { wood, from_sight, by_old, most });
            }
        }
        least
    }

    /// Every stripe that is cut: from where to where, how deep, and the least wood under it.
    fn platforms(&self) -> impl Iterator<Item = ((f64, f64), f64, f64)> {
        self.stripes().into_iter().filter_map(|(from, to)| {
            let deepest =
                self.gaps_over(from, to).map(|gap| -gap.missing.bottom).reduce(f64::max)?;
            let wood = wood_under(deepest, self.blank.thickness, self.greatest_height(from, to));
            Some(((from, to), deepest, wood))
        })
    }

    fn greatest_height(&self, from: f64, to: f64) -> f64 {
        let near = self.blank.profile.greatest_height(from, to);
        if self.blank.both_sides {
            near.max(
                self.blank.profile.greatest_height(self.blank.width - to, self.blank.width - from),
            )
        } else {
            near
        }
    }

    fn gaps_over(&self, from: f64, to: f64) -> impl Iterator<Item = &Gap> {
        let middle = f64::midpoint(from, to);
        self.gaps.iter().filter(move |gap| gap.from < middle && middle < gap.to)
    }

    /// The wood of a stripe, from glazing face to room face.
    fn wood(&self, from: f64, to: f64) -> Vec<Stretch> {
        let whole = vec![Stretch { top: 0.0, bottom: -self.blank.thickness }];
        let middle = f64::midpoint(from, to);
        let groove = self.groove.iter().filter(|gap| gap.from < middle && middle < gap.to);
        self.gaps_over(from, to).chain(groove).fold(whole, |wood, gap| {
            wood.into_iter().flat_map(|piece| piece.difference(gap.missing)).collect()
        })
    }

    /// Stretches of X along which the gaps do not change.
    fn stripes(&self) -> Vec<(f64, f64)> {
        let ends = self.gaps.iter().chain(&self.groove).flat_map(|gap| [gap.from, gap.to]);
        let mut at: Vec<f64> = ends
            .filter(|x| (0.0..=self.blank.width).contains(x))
            .chain([0.0, self.blank.width])
            .collect();
        at.sort_by(f64::total_cmp);
        let stripes = at.iter().copied().zip(at.iter().copied().skip(1));
        stripes.filter(|(from, to)| to > from).collect()
    }
}

/// The room-side surface of a width of wood with a moulding on its near side, or on both.
fn flattened(profile: &Profile, width: f64, both_sides: bool) -> Vec<Point> {
    let mut curve = Vec::new();
    kurbo::flatten(profile.path(), FLATTEN, |element| {
        if let Some(point) = element.end_point() {
            curve.push(point);
        }
    });
    if curve.is_empty() {
        curve.push(Point::ZERO);
    }
    let limit = if both_sides { width / 2.0 } else { width };
    let mut surface = upto(&curve, limit);
    if both_sides {
        let mirrored = surface.iter().rev().map(|p| Point::new(width - p.x, p.y));
        let mirrored: Vec<Point> = mirrored.collect();
        surface.extend(mirrored);
    } else if surface.last().is_none_or(|last| last.x < limit) {
        surface.push(Point::new(limit, 0.0));
    }
    surface
}

/// The part of a line that runs to the right with X from 0 to `limit`.
fn upto(line: &[Point], limit: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(line.len() + 1);
    for &point in line {
        if point.x > limit {
            if let Some(&last) = kept.last() {
                kept.push(at_x(last, point, limit));
            }
            break;
        }
        kept.push(point);
    }
    kept
}

/// The pieces of `surface` that lie within a range of X.
fn within(surface: &[Point], (from, to): (f64, f64)) -> impl Iterator<Item = (Point, Point)> {
    let pieces = surface.iter().zip(surface.iter().skip(1));
    pieces.filter(move |(p, q)| q.x >= from && p.x <= to).map(move |(&p, &q)| {
        let cut = |end: Point| {
            if end.x < from {
                at_x(p, q, from)
            } else if end.x > to {
                at_x(p, q, to)
            } else {
                end
            }
        };
        (cut(p), cut(q))
    })
}

/// The ring around the wood over `surface` between two X and two Y.
fn stripe(surface: &[Point], (from, to): (f64, f64), (bottom, top): (f64, f64)) -> Vec<Point> {
    let mut ring = vec![Point::new(to, top), Point::new(from, top)];
    for (p, q) in within(surface, (from, to)) {
        if [p, q].iter().all(|end| (bottom..=top).contains(&end.y)) {
            ring.extend([p, p.lerp(q, 1.0)]);
            continue;
        }
        // Where the piece leaves the range of Y it gets a corner, and is then laid on the border.
        let mut corners = [0.0, reach(p, q, bottom), reach(p, q, top), 1.0];
        corners.sort_by(f64::total_cmp);
        let points = corners.map(|t| p.lerp(q, t));
        ring.extend(points.map(|point| Point::new(point.x, point.y.max(bottom).min(top))));
    }
    ring
}

/// X of the highest point of `surface` within a range of X; the nearest to the sight edge of equals.
fn highest(surface: &[Point], range: (f64, f64)) -> f64 {
    let points = within(surface, range).flat_map(|(p, q)| [p, q]);
    let highest = points.reduce(|best, point| if point.y > best.y { point } else { best });
    highest.map_or(range.0, |point| point.x)
}

/// The point at `x` on the line from `p` to `q`; `q` where the line is upright.
fn at_x(p: Point, q: Point, x: f64) -> Point {
    let t = (x - p.x) / (q.x - p.x);
    if t.is_finite() { Point::new(x, p.y + t * (q.y - p.y)) } else { q }
}

/// How far along the line from `p` to `q`, 0 to 1, height `y` is reached; 0 where it is level.
fn reach(p: Point, q: Point, y: f64) -> f64 {
    let t = (y - p.y) / (q.y - p.y);
    if t.is_finite() { t.clamp(0.0, 1.0) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::Runs;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    fn member(moulding: Moulding, old: OldGlazing) -> Member {
        Member { width: 52.0, thickness: 45.0, old, tenon: None, moulding }
    }

    const OLD: OldGlazing = OldGlazing::Rebate { width: 9.0, depth: 17.0 };

    fn bar(moulding: Moulding) -> Bar {
        Bar {
            runs: Runs::Upright,
            centre: 268.0,
            course: crate::survey::Course::Through,
            lean: 0.0,
            width: 22.0,
            thickness: 45.0,
            rebate_width: 9.0,
            rebate_depth: 17.0,
            moulding,
            tenon: None,
        }
    }

    #[test]
    fn mouldings_take_their_closed_form_area() {
        let square = 52.0 * 45.0 - 9.0 * 17.0;
        let area = |moulding| CrossSection::member(&member(moulding, OLD)).section().area;
        assert_relative_eq!(area(Moulding::Square), square, epsilon = 1e-9);
        let chamfer = Moulding::Chamfer { width: 8.0, depth: 12.0 };
        assert_relative_eq!(area(chamfer), square - 48.0, epsilon = 1e-9);
        // A convex quarter ellipse leaves wd(1 − π/4) outside it.
        let ovolo = Moulding::Ovolo { width: 8.0, depth: 12.0 };
        assert_relative_eq!(area(ovolo), square - 96.0 * (1.0 - PI / 4.0), epsilon = 5e-3);
        // Hollow and round of an ogee balance: half the rectangle.
        let ogee = Moulding::Ogee { width: 8.0, depth: 12.0 };
        assert_relative_eq!(area(ogee), square - 48.0, epsilon = 5e-3);
    }

    // Closed form: a rectangle less a corner rebate, 45 by 45 less 15 by 25.
    #[test]
    fn a_cut_member_has_the_closed_form_second_moment() {
        let square = Member { width: 45.0, ..member(Moulding::Square, OLD) };
        let section = CrossSection::member(&square).member_cut(&square.old, 15.0, 25.0).section();
        // Half an inch of cord groove takes its area, and is no platform.
        let groove = CordGroove { depth: 12.7, width: 12.7, from_face: 16.0, length: 400.0 };
        let grooved = CrossSection::member(&square).grooved(Some(groove));
        let cut = grooved.member_cut(&square.old, 15.0, 25.0);
        assert_relative_eq!(cut.section().area, section.area - 12.7 * 12.7, epsilon = 1e-9);
        let plain = CrossSection::member(&square);
        let least = plain.member_cut(&square.old, 15.0, 25.0).least(25.0, &plain);
        assert_eq!(cut.least(25.0, &grooved), least);
        assert_relative_eq!(section.area, 1650.0, epsilon = 1e-9);
        assert_relative_eq!(section.ix, 276_164.773, epsilon = 1e-3);
        assert_relative_eq!(section.iy, 231_136.364, epsilon = 1e-3);
    }

    // Closed form: parallel axes, a rectangle less the slot.
    #[test]
    fn a_groove_is_a_slot_until_it_is_cut() {
        let groove = OldGlazing::Groove { from_face: 10.0, width: 5.0, depth: 8.0 };
        let meeting = member(Moulding::Square, groove);
        let before = CrossSection::member(&meeting).section();
        assert_relative_eq!(before.area, 52.0 * 45.0 - 40.0, epsilon = 1e-9);
        let y = (52.0 * 45.0 * 22.5 - 40.0 * 32.5) / before.area;
        let ix = 52.0 * 45.0_f64.powi(3) / 12.0 + 2340.0 * (22.5 - y).powi(2)
            - 8.0 * 5.0_f64.powi(3) / 12.0
            - 40.0 * (32.5 - y).powi(2);
        assert_relative_eq!(before.ix, ix, epsilon = 1e-6);
        // A cut no wider than nothing still takes the back lip.
        let lipless = CrossSection::member(&meeting).member_cut(&meeting.old, 0.0, 0.0).section();
        assert_relative_eq!(lipless.area, 52.0 * 45.0 - 8.0 * 15.0, epsilon = 1e-9);
    }

    #[test]
    fn least_wood_is_found_away_from_the_sight_edge() {
        let quirk = [(0.0, 4.0), (3.0, 4.0), (3.0, 9.0), (8.0, 0.0)].map(Point::from).to_vec();
        let traced = member(Moulding::Traced(quirk), OLD);
        let uncut = CrossSection::member(&traced);
        let least = uncut.member_cut(&traced.old, 14.0, 27.0).least(27.0, &uncut).unwrap();
        assert_relative_eq!(least.most, 45.0 - 17.0 - 9.0, epsilon = 1e-9);
        assert_relative_eq!(least.wood, 45.0 - 27.0 - 9.0, epsilon = 1e-9);
        assert_relative_eq!(least.from_sight, 3.0);
        assert!(!least.by_old);
        // Shallower than the old rebate: the old platform decides.
        let least = uncut.member_cut(&traced.old, 14.0, 12.0).least(12.0, &uncut).unwrap();
        assert_relative_eq!(least.wood, 45.0 - 17.0 - 9.0, epsilon = 1e-9);
        assert!(least.by_old);
        // The same depth but for rounding, as a survey in inches gives it, is not deeper.
        let depth = 17.0_f64.next_down();
        assert!(!uncut.member_cut(&traced.old, 14.0, depth).least(depth, &uncut).unwrap().by_old);
    }

    #[test]
    fn a_bar_loses_both_rebates_and_both_mouldings() {
        let chamfer = Moulding::Chamfer { width: 6.0, depth: 9.0 };
        let bar = bar(chamfer);
        let before = CrossSection::bar(&bar).section();
        assert_relative_eq!(before.area, 22.0 * 45.0 - 18.0 * 17.0 - 54.0, epsilon = 1e-9);
        assert_relative_eq!(before.x, 11.0, epsilon = 1e-9);
        assert_relative_eq!(before.ixy, 0.0, epsilon = 1e-6);
        let cut = CrossSection::bar(&bar).bar_cut([Gap::rebate(0.0, 22.0, 27.0)]);
        assert_relative_eq!(cut.section().area, 22.0 * 18.0 - 54.0, epsilon = 1e-9);
        assert_relative_eq!(cut.least(27.0, &cut).unwrap().wood, 9.0, epsilon = 1e-6);
    }

    #[test]
    fn a_platform_below_the_moulding_leaves_no_more_than_there_is() {
        let chamfer = member(Moulding::Chamfer { width: 10.0, depth: 20.0 }, OLD);
        let cut = CrossSection::member(&chamfer).member_cut(&chamfer.old, 14.0, 35.0);
        // Platform 10 mm above the room face meets the bevel 5 mm in.
        assert_relative_eq!(cut.least(35.0, &cut).unwrap().wood, -10.0, epsilon = 1e-6);
        let left = 52.0 * 45.0 - 14.0 * 35.0 - (5.0 * 10.0 + 5.0 * 10.0 / 2.0);
        assert_relative_eq!(cut.section().area, left, epsilon = 1e-9);
        assert_relative_eq!(cut.area_within(Stretch { top: -15.0, bottom: -30.0 }), 38.0 * 15.0);
    }
}
