//! Wood as stretches square to the face, and as upright prisms.

use crate::geometry::{COINCIDENT, Region};
use crate::language::Text;
use crate::survey::OldGlazing;

/// A stretch of wood square to the face: `top` is nearer the glazing face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Z of its upper end.
    pub top: f64,
    /// Z of its lower end, below `top`.
    pub bottom: f64,
}

impl Stretch {
    /// None where the two ends are one: such a film is the rounding of a depth, no wood.
    fn between(top: f64, bottom: f64) -> Option<Stretch> {
        (top - bottom > COINCIDENT).then_some(Stretch { top, bottom })
    }

    /// What is left of the stretch when `cut` is taken away: nothing, one or two pieces.
    pub fn difference(self, cut: Stretch) -> Vec<Stretch> {
        if cut.top <= self.bottom || cut.bottom >= self.top {
            return vec![self];
        }
        let above = Stretch::between(self.top, self.bottom.max(cut.top));
        let below = Stretch::between(self.top.min(cut.bottom), self.bottom);
        above.into_iter().chain(below).collect()
    }

    /// What both stretches share.
    pub fn intersection(self, other: Stretch) -> Option<Stretch> {
        Stretch::between(self.top.min(other.top), self.bottom.max(other.bottom))
    }
}

/// A prism: a region seen on the glazing face, between two depths.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Which part of the sash: `left stile, beside the rebate`; or what else stands there, as the joiner calls it.
    pub name: Text,
    /// Seen on the glazing face.
    pub region: Region,
    /// Z of its upper face, mm, zero or negative.
    pub top: f64,
    /// Z of its lower face, mm, below `top`.
    pub bottom: f64,
}

impl Solid {
    /// Volume, mm³.
    pub fn volume(&self) -> f64 {
        self.region.area() * (self.top - self.bottom)
    }
}

impl OldGlazing {
    /// Where the old rebate or groove has no wood, within its width.
    pub fn gap(&self) -> Stretch {
        match *self {
            OldGlazing::Rebate { depth, .. } => Stretch { top: 0.0, bottom: -depth },
            OldGlazing::Groove { from_face, width, .. } => {
                Stretch { top: -from_face, bottom: -from_face - width }
            }
        }
    }
}

/// Where two old rebates cross, as in a corner, only what both leave open is surely free of wood.
pub fn open_to_both(a: Option<Stretch>, b: Option<Stretch>) -> Option<Stretch> {
    a?.intersection(b?)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::super::tests::casement;
    use super::super::{Part, PlacedBar, Sash};
    use super::*;
    use crate::geometry::Side;
    use crate::survey::Bar;
    use kurbo::Point;

    /// The part of a square sash at `at` and its wood there before anything is cut, asked of the survey place by
    /// place, as if room-side mouldings were square; `None` in an open light or outside the sash. Uprights own
    /// the crossings of bars, and stiles the corners of the frame, as the tenons run.
    pub(crate) fn wood_at(sash: &Sash, at: Point) -> Option<(Part<'_>, Vec<Stretch>)> {
        if !sash.outer.contains(at) {
            return None;
        }
        if sash.sight.contains(at) { bar_wood_at(sash, at) } else { Some(frame_wood_at(sash, at)) }
    }

    fn frame_wood_at(sash: &Sash, at: Point) -> (Part<'_>, Vec<Stretch>) {
        let behind = |side: Side| match side {
            Side::Left => sash.sight.x0 - at.x,
            Side::Right => at.x - sash.sight.x1,
            Side::Bottom => sash.sight.y0 - at.y,
            Side::Top => at.y - sash.sight.y1,
        };
        let sides: Vec<Side> = Side::ALL.into_iter().filter(|&side| behind(side) >= 0.0).collect();
        // `Side::ALL` lists stiles first.
        let owner = sides[0];
        let member = sash.measured.members.get(owner);
        let whole = Stretch { top: 0.0, bottom: -member.thickness };
        let gap = sides
            .iter()
            .map(|&side| {
                let old = sash.measured.members.get(side).old;
                (behind(side) < old.width()).then(|| old.gap())
            })
            .reduce(open_to_both)
            .flatten();
        // A bar's web fills the old rebate where the bar is housed in the frame.
        let gap = gap.filter(|_| !is_under_web(sash, at));
        let wood = gap.map_or(vec![whole], |gap| whole.difference(gap));
        (Part::Member(owner), wood)
    }

    fn bar_wood_at(sash: &Sash, at: Point) -> Option<(Part<'_>, Vec<Stretch>)> {
        let over = |bar: &&PlacedBar| bar.aside(at) <= bar.measured.width / 2.0;
        let bar = sash.bars_by_owner().find(over)?;
        let Bar { thickness, rebate_depth, .. } = bar.measured;
        let top = if is_under_web(sash, at) { 0.0 } else { -rebate_depth };
        Some((Part::Bar(bar), vec![Stretch { top, bottom: -thickness }]))
    }

    fn is_under_web(sash: &Sash, at: Point) -> bool {
        sash.bars.iter().any(|bar| bar.aside(at) <= bar.measured.web() / 2.0)
    }

    #[test]
    fn wood_stands_where_the_survey_puts_it() {
        let sash = Sash::new(&casement()).unwrap();
        let at = |x, y| wood_at(&sash, Point::new(x, y));
        let stretch = |top, bottom| Stretch { top, bottom };
        assert_eq!(at(100.0, 100.0), None, "an open light");
        assert_eq!(at(-60.0, 10.0), None, "outside");
        assert_eq!(at(-30.0, 10.0), Some((Part::Member(Side::Left), vec![stretch(0.0, -45.0)])));
        assert_eq!(at(-5.0, 10.0), Some((Part::Member(Side::Left), vec![stretch(-17.0, -45.0)])));
        assert_eq!(at(268.0, 50.0), Some((Part::Bar(&sash.bars[0]), vec![stretch(0.0, -45.0)])));
        assert_eq!(at(260.0, 50.0), Some((Part::Bar(&sash.bars[0]), vec![stretch(-17.0, -45.0)])));
        // The web is housed in the bottom rail.
        let housed = at(268.0, -5.0);
        assert_eq!(housed, Some((Part::Member(Side::Bottom), vec![stretch(0.0, -45.0)])));
    }

    // A platform as deep as the old rebate of the rail, but for the last digit of one of the two: nothing must go there.
    #[test]
    fn a_film_of_rounding_is_no_wood() {
        let stretch = |top, bottom| Stretch { top, bottom };
        let (old, wood) = (stretch(0.0, -21.8), stretch(0.0, -45.0));
        let left = wood.difference(old);
        assert_eq!(left, [stretch(old.bottom, -45.0)]);
        let taken = stretch(0.0, old.bottom.next_down());
        assert_eq!(left[0].intersection(taken), None);
        assert_eq!(left[0].difference(taken).len(), 1);
    }

    #[test]
    fn a_groove_leaves_a_lip_towards_the_glazing_face() {
        let mut survey = casement();
        survey.members.top.old = OldGlazing::Groove { from_face: 10.0, width: 5.0, depth: 8.0 };
        let sash = Sash::new(&survey).unwrap();
        let (_, wood) = wood_at(&sash, Point::new(100.0, 935.0)).unwrap();
        let lip = Stretch { top: 0.0, bottom: -10.0 };
        assert_eq!(wood, vec![lip, Stretch { top: -15.0, bottom: -45.0 }]);
    }
}
