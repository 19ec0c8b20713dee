//! Wood beside a cut, out to the outer edge of a member or to the cord groove in it.

use super::Sash;
use crate::geometry::{MinMax, Side};
use crate::survey::{CordGroove, Cords};
use kurbo::Rect;

impl Sash {
    /// The cord groove in the outer edge of the member on that side; none in a rail.
    pub fn cord_groove(&self, side: Side) -> Option<CordGroove> {
        match self.measured.cords {
            Cords::Groove(groove) if side.is_upright() => Some(groove),
            Cords::Groove(_) | Cords::None | Cords::NotStated => None,
        }
    }

    /// Where the groove runs, seen on the glazing face: from the stile's top down along its outer edge.
    pub fn cord_groove_place(&self, side: Side) -> Option<Rect> {
        let groove = self.cord_groove(side)?;
        let edge = self.outer_outline.bounds_on(side)?;
        // Of a stile that runs on past the top rail, from the top of its horn.
        let edge = Rect { y1: edge.y1 + self.measured.horns.top, ..edge };
        let low = (edge.y1 - groove.length).max(edge.y0);
        Some(match side {
            Side::Left => Rect::new(edge.x0, low, edge.x0 + groove.depth, edge.y1),
            _ => Rect::new(edge.x1 - groove.depth, low, edge.x1, edge.y1),
        })
    }

    /// Wood from a cut out to the outer edge of the member on that side, mm, where the cut is `width` mm wide from the
    /// sight edge and `depth` deep: the least, which the cord groove may bring about, and the most.
    pub fn wood_beside(&self, side: Side, width: MinMax, depth: f64) -> MinMax {
        let member = self.measured.members.get(side).width;
        let mut beside = width.map(|width| member - width);
        if let Some(groove) = self.cord_groove(side) {
            let to_groove = groove.wood_to(member, width.most, depth);
            beside.least = beside.least.min(to_groove);
        }
        beside
    }
}

impl CordGroove {
    /// Wood from a cut of that width and depth to the groove in a member `member` mm wide, mm: √(Δx² + Δz²) between
    /// both rectangles, and nothing where they meet.
    pub fn wood_to(&self, member: f64, width: f64, depth: f64) -> f64 {
        let across = (member - self.depth - width).max(0.0);
        across.hypot((self.from_face - depth).max(0.0))
    }

    /// How much narrower than `width` the cut has to be to leave `wanted` mm, mm.
    pub fn narrower(&self, member: f64, width: f64, depth: f64, wanted: f64) -> f64 {
        let down = (self.from_face - depth).max(0.0);
        let across = (wanted * wanted - down * down).max(0.0).sqrt();
        (across - (member - self.depth - width)).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::casement;
    use super::*;
    use crate::survey::Kind;
    use approx::assert_relative_eq;

    fn sliding(from_face: f64) -> Sash {
        let mut survey = casement();
        survey.kind = Kind::SlidingUpper;
        let groove = CordGroove { depth: 12.7, width: 12.7, from_face, length: 500.0 };
        survey.cords = Cords::Groove(groove);
        Sash::new(&survey).unwrap()
    }

    // By hand: a stile of 52 with a rebate of 14 keeps 38, and 25.3 beside a groove of half an inch; one that lies 3 mm
    // under the platform of 27 keeps √(25.3² + 3²).
    #[test]
    fn a_groove_takes_half_an_inch_of_the_wood_beside() {
        let width = MinMax::even(14.0);
        let beside = sliding(16.0).wood_beside(Side::Left, width, 27.0);
        assert_relative_eq!(beside.least, 25.3, epsilon = 1e-9);
        assert_relative_eq!(beside.most, 38.0, epsilon = 1e-9);
        let below = sliding(30.0).wood_beside(Side::Right, width, 27.0);
        assert_relative_eq!(below.least, 25.3_f64.hypot(3.0), epsilon = 1e-9);
        let rail = sliding(16.0).wood_beside(Side::Bottom, width, 27.0);
        assert_eq!(rail.least, rail.most);
        let meets = sliding(16.0).wood_beside(Side::Left, MinMax::even(45.0), 27.0);
        assert_eq!(meets.least, 0.0);
    }

    #[test]
    fn as_much_narrower_as_is_told_leaves_what_is_wanted() {
        for from_face in [16.0, 30.0] {
            let Cords::Groove(groove) = sliding(from_face).measured.cords else {
                panic!("a groove")
            };
            let narrower = groove.narrower(52.0, 20.0, 27.0, 22.0);
            assert!(narrower > 0.0);
            assert_relative_eq!(groove.wood_to(52.0, 20.0 - narrower, 27.0), 22.0, epsilon = 1e-9);
        }
    }

    #[test]
    fn it_runs_from_the_top_down_the_outer_edges() {
        let sash = sliding(16.0);
        let top = sash.outer.y1;
        assert_eq!(
            sash.cord_groove_place(Side::Left),
            Some(Rect::new(-52.0, top - 500.0, -52.0 + 12.7, top))
        );
        assert_eq!(sash.cord_groove_place(Side::Top), None);
    }
}
