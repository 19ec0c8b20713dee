//! Along which sides of a wall the cutter goes, and how often: wood is not as wide along all of them.

use crate::geometry::{COINCIDENT, Edge, Join, MOVED, PerSide, Side, backwards};
use crate::passes::{Ring, steps};
use crate::sash::Sash;
use crate::survey::Direction;
use kurbo::Point;

/// What a step stays below the widest, as a share of the cutter's diameter.
pub(super) const SURE: f64 = 0.004;

/// From each side of a wall to the wood furthest from it, mm; none for walls along which the wood is told by no width of
/// a side and reaches further in than the last loop of a cutter of `radius`.
pub(super) fn widths(sash: &Sash, ring: &Ring, radius: f64) -> Option<PerSide<f64>> {
    let widths = PerSide::from_fn(|side| {
        let (from, to) = (ring.from.get(side), ring.to.get(side));
        (to.most - from.most).max(to.least - from.least).min(ring.widest)
    });
    // Where sides meet askew wood lies further in than any side is wide.
    let widest = widths.iter().map(|(_, width)| *width).fold(0.0, f64::max);
    let askew = (ring.widest - widest).max(0.0);
    // Where a side's widths do not tell the wood exactly, none may be left: then the last loop takes all of it.
    // Behind a curved head another member's rebate may come down along a jamb, and into a square light. Where a light of
    // its own ends in a sharp corner between bar and frame that would be too wide a bite.
    let blunt = sash.cut_bars().len() == sash.bars.len();
    let taken = blunt && ring.widest <= (2.0 - SURE) * radius;
    let known = sash.outline.is_rectangle() || taken;
    known.then(|| widths.map(|width| width + askew))
}

/// How far loops are apart, `count` of at most `lane` along the widest side: as even as lets every side do with as few as
/// its own width asks for.
pub(super) fn apart(widths: &PerSide<f64>, (widest, count): (f64, u32), lane: f64) -> f64 {
    let wanted = widths.map(|width| match steps(*width, lane) {
        own @ 2.. => (width - lane) / f64::from(own - 1),
        _ => 0.0,
    });
    wanted.iter().map(|(_, each)| *each).fold(widest / f64::from(count), f64::max)
}

/// How many loops each side of a wall wants: none where no wood stands.
pub(super) struct Sides<'a> {
    ring: &'a Ring,
    radius: f64,
    each: f64,
    widths: PerSide<f64>,
    wanted: PerSide<u32>,
}

impl Sides<'_> {
    /// Of loops `each` apart along sides of such [`widths`], for bites of at most `lane` with a cutter of `radius`.
    pub(super) fn new<'a>(
        sash: &Sash,
        ring: &'a Ring,
        widths: PerSide<f64>,
        (each, lane): (f64, f64),
        radius: f64,
    ) -> Sides<'a> {
        // Whatever else stands there goes as well: the ends of bars that are cut down, and what widths do not tell.
        let told = sash.outline.is_rectangle() && ring.wall.is_rectangle();
        let bare = |width: f64| told && sash.cut_bars().is_empty() && width <= COINCIDENT;
        let loops = |width: f64| 1 + steps(width - lane, each);
        let wanted = widths.map(|width| if bare(*width) { 0 } else { loops(*width) });
        Sides { ring, radius, each, widths, wanted }
    }

    /// The same with a loop along every side.
    pub(super) fn all(self) -> Self {
        let wanted = self.wanted.map(|wanted| (*wanted).max(1));
        Sides { wanted, ..self }
    }

    /// Whether the last loop goes all round.
    pub(super) fn all_round(&self) -> bool {
        self.wanted.iter().all(|(_, wanted)| *wanted > 0)
    }

    /// The stretches of the loop with `inside` loops between it and the wall along which wood stands, in the order of
    /// travel; none where that is all of it. Beside sides that want fewer it ends on the innermost of theirs, and beside
    /// one that wants none goes on along it as far as wood stands, so that no scallop is left there between lanes.
    pub(super) fn stretches(&self, inside: usize, direction: Direction) -> Option<Vec<Vec<Edge>>> {
        let inside = u32::try_from(inside).ok()?;
        let wall = &self.ring.wall;
        let inwards = |wanted: &u32| {
            -self.radius - f64::from(inside.min(wanted.saturating_sub(1))) * self.each
        };
        let path = wall.grow_round(&self.wanted.map(inwards)).ok()?;
        // Where sides meet that want unlike numbers of loops and hardly turn, the step from one to the other may reach
        // past the wall.
        let outermost = wall.outline().offset(-self.radius, Join::Round).ok()?;
        let allowed = |at: Point| outermost.contains(at) || outermost.distance_to(at) <= MOVED;
        if !path.outline().corners().all(allowed) {
            return None;
        }
        let wants = |side: Side| *self.wanted.get(side) > inside;
        let edges: Vec<(Edge, Side)> = path.edges().map(|(edge, side)| (*edge, side)).collect();
        // From an edge on that wants none, and to it again.
        let begin = edges.iter().position(|(_, side)| !wants(*side))?;
        let round: Vec<&(Edge, Side)> =
            edges.iter().cycle().skip(begin).take(edges.len() + 1).collect();
        let parts: Vec<&[&(Edge, Side)]> =
            round.chunk_by(|a, b| wants(a.1) == wants(b.1)).collect();
        let stretches = parts.windows(3).filter_map(|parts| {
            let [before, stretch, after] = parts else { return None };
            let (first, last) = (stretch.first()?, stretch.last()?);
            let on = |edge: &Edge, side: Side, end: f64| {
                let share = (self.on(side, inside) / edge.length()).min(1.0);
                edge.part(end * (1.0 - share), (end + share).min(1.0))
            };
            let [before, after] =
                [on(&before.last()?.0, first.1, 1.0), on(&after.first()?.0, last.1, 0.0)];
            let all = std::iter::once(before).chain(stretch.iter().map(|edge| edge.0));
            let all = all.chain([after]).filter(|edge| edge.length() > COINCIDENT);
            wants(first.1).then(|| travelled_along(all.collect(), direction))
        });
        Some(stretches.collect())
    }

    /// How far a stretch along `side` that ends beside one that wants none goes on along that, mm.
    fn on(&self, side: Side, inside: u32) -> f64 {
        if inside > 0 || self.all_round() {
            return 0.0;
        }
        (self.widths.get(side) - self.radius).max(0.0)
    }
}

/// Against the rotation is clockwise inside a wall.
pub(super) fn travelled_along(edges: Vec<Edge>, direction: Direction) -> Vec<Edge> {
    match direction {
        Direction::Against => backwards(&edges),
        Direction::With => edges,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, MinMax, Sided};
    use crate::sash::tests::casement;

    // By hand, for lanes of at most 4.4 mm: 9.5 mm wants three and 8.5 two, of which the inner takes 8.5 - 4.4 = 4.1; even
    // thirds of 9.5, 3.17 mm apart, would leave 8.5 - 4.4 - 3.17 for a third there. Alike all round, they are even.
    #[test]
    fn a_narrower_side_is_not_cut_in_more_lanes_than_its_own_width_asks_for() {
        let widths = |bottom: f64| PerSide { bottom, ..PerSide::all(8.5) };
        assert!((apart(&widths(9.5), (9.5, 3), 4.4) - 4.1).abs() < 1e-9);
        assert!((apart(&widths(8.5), (8.5, 2), 4.4) - 4.25).abs() < 1e-9);
        assert!((apart(&PerSide::all(9.5), (9.5, 3), 4.4) - 9.5 / 3.0).abs() < 1e-9);
    }

    // A head that hardly turns from its jamb: 8.3 mm from the jamb and 17.5 from the arc do not meet, and the step from one
    // to the other starts nearer to the arc than the cutter may come.
    #[test]
    fn no_stretch_comes_nearer_to_the_wall_than_the_last_loop() {
        let (r, centre) = (8.3, Point::new(40.87, 77.83));
        let head = Edge::Arc(Arc { centre, radius: 55.78, start: 0.5836, sweep: 2.1139 });
        let (right, left) = (head.start(), head.end());
        let [low, high] = [Point::new(left.x, -24.0), Point::new(right.x, -24.0)];
        let edges = [
            (Edge::line(low, high), Side::Bottom),
            (Edge::line(high, right), Side::Right),
            (head, Side::Top),
            (Edge::line(left, low), Side::Left),
        ];
        let wall = Sided::new(edges.to_vec()).unwrap();
        let wide = MinMax::even(14.0);
        let ring = Ring {
            unit: 0,
            sight: wall.grow(&PerSide::all(-14.0)).unwrap(),
            wall,
            from: PerSide { left: wide, right: wide, ..PerSide::all(MinMax::even(0.0)) },
            to: PerSide::all(wide),
            widest: 14.0,
        };
        let sash = Sash::new(&casement()).unwrap();
        let widths = widths(&sash, &ring, r).unwrap();
        let sides = Sides::new(&sash, &ring, widths, (4.6, 4.6), r);
        assert!(sides.wanted.left < sides.wanted.top);
        let last = ring.wall.outline().offset(-r, Join::Round).unwrap();
        for inside in 0..3 {
            let stretches = sides.stretches(inside, Direction::Against).unwrap_or_default();
            for edge in stretches.iter().flatten() {
                let place = edge.start();
                assert!(
                    last.contains(place) || last.distance_to(place) < 1e-6,
                    "{inside}: {place:?}"
                );
            }
        }
    }
}
