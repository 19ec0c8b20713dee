//! What a sash holds in reserve: the surfaces behind the cut, how much wood must be left before
//! them, and where the units come to rest. Plain values; whoever knows the sash fills them in.

use kurbo::Rect;

/// The axis that a surface changes along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// Along X, as the moulding of an upright part does.
    X,
    /// Along Y, as the moulding of a level part does.
    Y,
}

/// A side of the whole sash, seen on the glazing face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The side of smaller X.
    Left,
    /// The side of larger X.
    Right,
    /// The side of smaller Y.
    Bottom,
    /// The side of larger Y.
    Top,
}

/// One member or bar: its room-side surface, and how much wood it must keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Front {
    /// What a joiner calls it.
    pub name: String,
    /// The strip that it fills, seen on the glazing face.
    pub area: Rect,
    /// Which way its surface changes.
    pub across: Across,
    /// The room-side surface across the strip: places along that axis, rising, each with its Z.
    /// Straight between two places; beyond the ends it goes on level.
    pub surface: Vec<[f64; 2]>,
    /// Least wood wanted between cut and surface, mm.
    pub least: f64,
    /// Z below which it may not be cut, whatever its moulding; for a bar that needs height.
    pub lowest: Option<f64>,
    /// For a member of the frame: the side of the sash it makes, and the least wood wanted between
    /// the cut and its outer edge, mm.
    pub outer: Option<(Edge, f64)>,
}

impl Front {
    /// Highest place of the surface between two places of its axis: the place and its Z.
    pub(super) fn highest(&self, from: f64, to: f64) -> (f64, f64) {
        let (from, to) = (from.min(to), from.max(to));
        let ends = [from, to].map(|at| (at, self.height(at)));
        let inner = self.surface.iter().map(|&[at, z]| (at, z));
        let inner = inner.filter(|(at, _)| (from..=to).contains(at));
        let higher = |a: (f64, f64), b: (f64, f64)| if b.1 > a.1 { b } else { a };
        ends.into_iter().chain(inner).fold((from, f64::NEG_INFINITY), higher)
    }

    /// Z of the surface at a place of its axis; where it is upright, the higher end.
    pub fn height(&self, at: f64) -> f64 {
        let next = self.surface.partition_point(|&[place, _]| place < at);
        let before = next.checked_sub(1).and_then(|index| self.surface.get(index));
        match (before, self.surface.get(next)) {
            (Some(&[a, za]), Some(&[b, zb])) if b > a => za + (zb - za) * (at - a) / (b - a),
            (_, Some(&[_, z])) | (Some(&[_, z]), None) => z,
            (None, None) => f64::NEG_INFINITY,
        }
    }
}

/// Where a unit comes to rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Seat {
    /// The light, or lights, it serves: as the pocket of the rebate names them.
    pub light: String,
    /// The unit, seen on the glazing face.
    pub unit: Rect,
    /// Room between platform and unit, mm, that a platform left too high may use up.
    pub bed: f64,
}

/// Everything that the margins are measured against.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reserve {
    /// Members and bars. Where strips overlap, each is measured.
    pub fronts: Vec<Front>,
    /// Units.
    pub seats: Vec<Seat>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_surface_is_straight_between_its_places_and_level_beyond() {
        let front = Front {
            name: "left stile".into(),
            area: Rect::new(-50.0, 0.0, 0.0, 100.0),
            across: Across::X,
            surface: vec![[-10.0, -45.0], [-2.0, -37.0], [0.0, -39.0]],
            least: 5.0,
            lowest: None,
            outer: None,
        };
        let heights = [-30.0, -10.0, -6.0, -2.0, -1.0, 0.0, 3.0].map(|at| front.height(at));
        assert_eq!(heights, [-45.0, -45.0, -41.0, -37.0, -38.0, -39.0, -39.0]);
        assert_eq!(front.highest(-14.0, 0.0), (-2.0, -37.0));
        assert_eq!(front.highest(-14.0, -6.0), (-6.0, -41.0));
        assert_eq!(front.highest(-20.0, -15.0).1, -45.0);
        // A quirk: upright at one place, and the higher end counts.
        let quirk = Front { surface: vec![[-3.0, -45.0], [-3.0, -36.0], [0.0, -41.0]], ..front };
        assert_eq!(quirk.highest(-14.0, -3.0).1, -36.0);
    }
}
