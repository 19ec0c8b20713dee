//! Horns: what of the stiles of a sliding sash runs on past a rail.

use super::Sash;
use crate::geometry::{Edge, Outline, Side};
use kurbo::{Point, Rect, Vec2};

/// One horn.
#[derive(Debug, Clone, PartialEq)]
pub struct Horn {
    /// Its stile.
    pub stile: Side,
    /// The rail it runs past.
    pub end: Side,
    /// Seen on the glazing face: as wide as the stile, square at its end, whatever shape it has there.
    pub outline: Outline,
}

impl Sash {
    /// Every horn: two at an end, or none.
    pub fn horns(&self) -> Vec<Horn> {
        let ends = [Side::Bottom, Side::Top].into_iter();
        let all = ends.flat_map(|end| [Side::Left, Side::Right].map(|stile| (stile, end)));
        all.filter_map(|(stile, end)| self.horn(stile, end)).collect()
    }

    fn horn(&self, stile: Side, end: Side) -> Option<Horn> {
        let length = self.measured.horns.past(end);
        if length <= 0.0 {
            return None;
        }
        let up = if end == Side::Top { 1.0 } else { -1.0 };
        // The straight edge that ends the stile, from its far end to the rail.
        let own = self.outer_outline.edges_on(stile);
        let straight = own.filter_map(|edge| match edge {
            Edge::Line(_) if up * edge.end().y > up * edge.start().y => {
                Some((edge.start(), edge.end()))
            }
            Edge::Line(_) => Some((edge.end(), edge.start())),
            Edge::Arc(_) => None,
        });
        let (far, corner) = straight.max_by(|a, b| (up * a.1.y).total_cmp(&(up * b.1.y)))?;
        let along = (corner - far).normalize();
        let across = Vec2::new(along.y, -along.x);
        let across = if across.dot(stile.inwards()) > 0.0 { across } else { -across };
        let (past, wide) = (length * along, self.measured.members.get(stile).width * across);
        let corners: [Point; 4] = [corner, corner + past, corner + past + wide, corner + wide];
        Some(Horn { stile, end, outline: Outline::polygon(&corners).ok()? })
    }

    /// Bounds of the whole sash, its horns with it.
    pub fn extent(&self) -> Rect {
        self.horns().iter().fold(self.outer, |all, horn| all.union(horn.outline.bounds()))
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::casement;
    use super::*;
    use crate::survey::{Horns, Kind};

    // By hand: stiles of 52 beside a daylight of 820 by 930 whose rails are 74 and 52: below −74, and above 982.
    #[test]
    fn horns_run_on_from_the_stiles() {
        let mut survey = casement();
        survey.kind = Kind::SlidingUpper;
        assert_eq!(Sash::new(&survey).unwrap().horns(), []);
        survey.horns = Horns { bottom: 60.0, top: 0.0 };
        let sash = Sash::new(&survey).unwrap();
        let bounds: Vec<Rect> = sash.horns().iter().map(|horn| horn.outline.bounds()).collect();
        assert_eq!(
            bounds,
            [Rect::new(-52.0, -134.0, 0.0, -74.0), Rect::new(820.0, -134.0, 872.0, -74.0)]
        );
        assert_eq!(sash.outer, Rect::new(-52.0, -74.0, 872.0, 982.0));
        assert_eq!(sash.extent(), Rect::new(-52.0, -134.0, 872.0, 982.0));
        survey.horns = Horns { bottom: 0.0, top: 45.0 };
        let above = Sash::new(&survey).unwrap();
        assert_eq!(above.extent().y1, 1027.0);
        assert!(above.horns().iter().all(|horn| horn.end == Side::Top));
    }
}
