//! Which part of a sash lies along an edge of a daylight.

use super::{Part, PlacedBar, Sash};
use crate::geometry::{Edge, REWORKED, Side, Sided};
use crate::survey::OldGlazing;

impl Sash {
    /// The part beside a daylight and how it held the old glass there: the frame's member, or the bar
    /// whose sight edge lies on that side. Where both do, the one along the longer edge.
    pub fn neighbour(&self, daylight: &Sided, side: Side) -> (Part<'_>, OldGlazing) {
        let longest = daylight.edges_on(side).max_by(|a, b| a.length().total_cmp(&b.length()));
        let part = longest.map_or(Part::Member(side), |edge| self.along(edge, side));
        (part, self.old_glazing(part))
    }

    /// How a part held the old glass.
    pub fn old_glazing(&self, part: Part) -> OldGlazing {
        match part {
            Part::Member(side) => self.measured.members.get(side).old,
            Part::Bar(bar) => bar.old_glazing(),
        }
    }

    /// The part whose sight edge `edge` is; `side` is where it looks to.
    pub fn along(&self, edge: &Edge, side: Side) -> Part<'_> {
        let middle = edge.at(0.5);
        if let Some(member) = self.outline.side_at(middle, REWORKED) {
            return Part::Member(member);
        }
        let borders =
            |bar: &&PlacedBar| (bar.aside(middle) - bar.measured.width / 2.0).abs() <= REWORKED;
        self.bars.iter().find(borders).map_or(Part::Member(side), Part::Bar)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;

    #[test]
    fn an_edge_knows_its_member_or_its_bar() {
        let sash = Sash::new(&casement()).unwrap();
        let part = |light: usize, side| sash.neighbour(&sash.lights[light].outline, side).0;
        assert_eq!(part(0, Side::Left), Part::Member(Side::Left));
        assert_eq!(part(0, Side::Right), Part::Bar(&sash.bars[0]));
        assert_eq!(part(1, Side::Left), Part::Bar(&sash.bars[0]));
        assert_eq!(part(1, Side::Right), Part::Bar(&sash.bars[1]));
        assert_eq!(part(2, Side::Top), Part::Member(Side::Top));
    }
}
