//! The wood that stands round a unit before anything is cut, and how far from the walls it begins.

use super::layers::Layer;
use crate::geometry::{COINCIDENT, Edge, Outline, Region};
use crate::sash::{PlacedBar, Solid};

/// Wood to be cut from the frame round one unit, and from bars that are its sides.
#[derive(Debug)]
pub(super) struct UncutWood {
    layers: Vec<Wood>,
}

/// All solids between the same two heights.
#[derive(Debug)]
struct Wood {
    /// Z of its upper and of its lower face, mm.
    top: f64,
    bottom: f64,
    /// How far inside the new wall it begins, mm.
    in_new: f64,
    /// The same inside the wall before finishing.
    in_rough: f64,
}

/// Up to which wall wood is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum UpTo {
    New,
    /// The new one less what is kept for the finishing cut.
    Rough,
}

impl UncutWood {
    /// What of `go` lies inside the first of the walls and is no piece of `cut_down`, bars that passes of
    /// their own take.
    pub(super) fn new(
        go: &[Solid],
        [new, rough]: [&Outline; 2],
        cut_down: &[PlacedBar],
    ) -> UncutWood {
        let of_a_bar = |region: &Region| cut_down.iter().any(|bar| belongs(region, bar));
        let mut frame: Vec<&Solid> = go.iter().filter(|solid| !of_a_bar(&solid.region)).collect();
        let heights =
            |a: &&Solid, b: &&Solid| a.top.total_cmp(&b.top).then(a.bottom.total_cmp(&b.bottom));
        frame.sort_by(heights);
        let layers = frame.chunk_by(|a, b| heights(a, b).is_eq());
        let layers = layers.filter_map(|solids| {
            let solid = solids.first()?;
            let [in_new, in_rough] = [new, rough].map(|wall| depth(wall, solids));
            let wood = Wood { top: solid.top, bottom: solid.bottom, in_new, in_rough };
            (in_new > COINCIDENT).then_some(wood)
        });
        UncutWood { layers: layers.collect() }
    }

    /// Glazing face to the shallowest old platform, at most `deepest`, mm.
    pub(super) fn shallowest(&self, deepest: f64) -> f64 {
        let platforms = self.layers.iter().map(|wood| -wood.top);
        platforms.filter(|&down| down > COINCIDENT).fold(deepest, f64::min)
    }

    /// From the wall to the wood of a layer that is furthest from it, mm. Where sides meet askew that is
    /// more than any side is wide, and behind a curved head the old rebate may be another's.
    pub(super) fn widest(&self, up_to: UpTo, layer: Layer) -> f64 {
        let (top, bottom) = (-layer.from, -layer.to);
        let met = |wood: &&Wood| wood.top > bottom + COINCIDENT && wood.bottom < top - COINCIDENT;
        let inside = |wood: &Wood| match up_to {
            UpTo::New => wood.in_new,
            UpTo::Rough => wood.in_rough,
        };
        let met = self.layers.iter().filter(met);
        met.map(inside).fold(0.0, f64::max)
    }
}

/// How far inside the wall the solids come, mm. Wood goes all round the open light, so that none is further
/// in than an edge of it.
fn depth(wall: &Outline, solids: &[&Solid]) -> f64 {
    wall.depth_of(solids.iter().flat_map(|solid| solid.region.edges()))
}

fn belongs(region: &Region, bar: &PlacedBar) -> bool {
    let within = |edge: &Edge| {
        [0.0, 0.5].iter().all(|&t| bar.aside(edge.at(t)) <= bar.measured.width / 2.0 + COINCIDENT)
    };
    region.edges().all(within)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Point, Rect};

    fn solid(corners: &[(f64, f64)], top: f64, bottom: f64) -> Solid {
        let corners: Vec<Point> = corners.iter().map(|&at| Point::from(at)).collect();
        let region = Region::solid(Outline::polygon(&corners).unwrap());
        Solid { name: crate::language::Text::name("wood"), region, top, bottom }
    }

    // By hand: in a square of 100 mm one piece of wood comes in to a tip 25 mm above its lower edge, and a
    // platform 6 mm down runs along it 12 mm wide. A third piece lies outside.
    #[test]
    fn the_wood_furthest_from_the_wall_counts_in_each_layer() {
        let wall = Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 100.0)).unwrap();
        let rough = Outline::rectangle(Rect::new(1.0, 1.0, 99.0, 99.0)).unwrap();
        let go = [
            solid(&[(0.0, 0.0), (60.0, 0.0), (50.0, 25.0)], 0.0, -10.0),
            solid(&[(0.0, 0.0), (100.0, 0.0), (100.0, 12.0), (0.0, 12.0)], -6.0, -20.0),
            solid(&[(0.0, 0.0), (-60.0, 0.0), (-60.0, -25.0)], -3.0, -10.0),
        ];
        let uncut = UncutWood::new(&go, [&wall, &rough], &[]);
        let widest = |up_to, from, to| uncut.widest(up_to, Layer { from, to });
        assert_eq!(widest(UpTo::New, 0.0, 5.0), 25.0);
        assert_eq!(widest(UpTo::Rough, 0.0, 5.0), 24.0);
        assert_eq!(widest(UpTo::New, 10.0, 15.0), 12.0);
        assert_eq!(widest(UpTo::New, 20.0, 25.0), 0.0);
        assert_eq!(uncut.shallowest(27.0), 6.0);
        assert_eq!(uncut.shallowest(5.0), 5.0);
        let path = Edge::line(Point::new(-10.0, 10.0), Point::new(110.0, 10.0));
        let bar = crate::sash::tests::placed(0, path, 40.0);
        let beside = UncutWood::new(&go, [&wall, &rough], &[bar]);
        assert_eq!(beside.shallowest(27.0), 27.0);
    }
}
