//! Outlines of wood between upright and level cuts and a moulded room side.
//!
//! The wood is parted into columns along which neither cuts nor the moulding's chords change, each
//! column into pieces between levels, and the pieces are joined again along the edges they share. So
//! a cut that breaks through the moulding, or through the room face, needs no case of its own.

use super::TOLERANCE;
use crate::geometry::COINCIDENT;
use crate::sash::Profile;
use kurbo::{BezPath, Point, Rect, Shape};
use std::collections::{BTreeMap, BTreeSet};

/// Pieces smaller than this are rounding, mm².
const LEAST_AREA: f64 = 1e-3;

/// A corner by its place among all X and all Y.
type Node = (usize, usize);

/// Wood with its moulding, before any cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    solid: Rect,
    /// The room side from the left sight edge to the right as chords; X never falls.
    surface: Vec<Point>,
}

/// Wood in one column: `left` and `right` are its lower Y at both sides, `high` its upper.
struct Piece {
    from: f64,
    to: f64,
    left: f64,
    right: f64,
    high: f64,
}

impl Blank {
    /// `solid` with `profile` on its room-side arris at the left, and on the right one too where it
    /// is moulded `both_sides`.
    pub fn new(solid: Rect, profile: &Profile, both_sides: bool) -> Blank {
        let mut curve = Vec::new();
        kurbo::flatten(profile.path(), TOLERANCE, |element| curve.extend(element.end_point()));
        let limit = if both_sides { solid.width() / 2.0 } else { solid.width() };
        let mut surface = up_to(&curve, limit);
        if both_sides {
            let mirrored = surface.iter().rev().map(|p| Point::new(solid.width() - p.x, p.y));
            surface.extend(mirrored.collect::<Vec<_>>());
        } else {
            surface.push(Point::new(limit, 0.0));
        }
        for point in &mut surface {
            *point += solid.origin().to_vec2();
        }
        Blank { solid, surface }
    }

    /// The wood less `cuts`, one closed path a piece, anticlockwise.
    pub fn difference(&self, cuts: &[Rect]) -> Vec<BezPath> {
        self.outlines(cuts, |at| !holds(cuts, at))
    }

    /// What `new` cuts take from the wood that `old` ones have left.
    pub fn taken(&self, old: &[Rect], new: &[Rect]) -> Vec<BezPath> {
        let all: Vec<Rect> = old.iter().chain(new).copied().collect();
        self.outlines(&all, |at| !holds(old, at) && holds(new, at))
    }

    fn outlines(&self, cuts: &[Rect], inside: impl Fn(Point) -> bool) -> Vec<BezPath> {
        let solid = self.solid;
        let rows = sorted(cuts.iter().flat_map(|cut| [cut.y0, cut.y1]), solid.y0, solid.y1);
        let columns = self.columns(cuts, &rows);
        let mut pieces = Vec::new();
        for (from, to) in pairs(&columns) {
            let Some((left, right)) = self.surface_over(from, to) else { continue };
            for (low, high) in pairs(&rows) {
                let middle = Point::new(f64::midpoint(from, to), f64::midpoint(low, high));
                let (left, right) = (left.clamp(low, high), right.clamp(low, high));
                if inside(middle) && high - left.min(right) > COINCIDENT {
                    pieces.push(Piece { from, to, left, right, high });
                }
            }
        }
        rings(&columns, &pieces)
            .iter()
            .map(|ring| closed(ring))
            .filter(is_more_than_rounding)
            .collect()
    }

    /// Every X at which a cut or a chord begins or ends, or a chord passes a level.
    fn columns(&self, cuts: &[Rect], rows: &[f64]) -> Vec<f64> {
        let mut xs: Vec<f64> = cuts.iter().flat_map(|cut| [cut.x0, cut.x1]).collect();
        xs.extend(self.surface.iter().map(|point| point.x));
        for (p, q) in self.chords() {
            for row in rows {
                let share = (row - p.y) / (q.y - p.y);
                if share > 0.0 && share < 1.0 {
                    xs.push(p.lerp(q, share).x);
                }
            }
        }
        sorted(xs, self.solid.x0, self.solid.x1)
    }

    /// The room side from the left sight edge to the right, corner by corner; X never falls.
    pub fn surface(&self) -> &[Point] {
        &self.surface
    }

    fn chords(&self) -> impl Iterator<Item = (Point, Point)> {
        self.surface.iter().copied().zip(self.surface.iter().copied().skip(1))
    }

    /// Y of the room side at both ends of a column.
    fn surface_over(&self, from: f64, to: f64) -> Option<(f64, f64)> {
        let middle = f64::midpoint(from, to);
        let (p, q) = self.chords().find(|(p, q)| p.x <= middle && middle < q.x)?;
        let at = |x: f64| p.lerp(q, (x - p.x) / (q.x - p.x)).y;
        Some((at(from), at(to)))
    }
}

fn holds(cuts: &[Rect], at: Point) -> bool {
    cuts.iter().any(|cut| cut.contains(at))
}

/// The part of a curve that runs to the right with X from 0 to `limit`; a bare arris where it is
/// only a point.
fn up_to(curve: &[Point], limit: f64) -> Vec<Point> {
    let mut kept = vec![curve.first().copied().unwrap_or_default()];
    for (&p, &q) in curve.iter().zip(curve.iter().skip(1)) {
        if q.x > limit {
            kept.push(p.lerp(q, (limit - p.x) / (q.x - p.x)));
            break;
        }
        kept.push(q);
    }
    kept
}

/// Neighbours of a list.
fn pairs(values: &[f64]) -> impl Iterator<Item = (f64, f64)> {
    values.iter().copied().zip(values.iter().copied().skip(1))
}

/// Both ends and the values between them, ascending, each once.
fn sorted(values: impl IntoIterator<Item = f64>, low: f64, high: f64) -> Vec<f64> {
    let within = values.into_iter().filter(|v| (low..=high).contains(v));
    let mut all: Vec<f64> = within.chain([low, high]).collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|next, kept| *next - *kept <= COINCIDENT);
    all
}

/// The rings round joined pieces, the wood to their left.
fn rings(columns: &[f64], pieces: &[Piece]) -> Vec<Vec<Point>> {
    let ends = pieces.iter().flat_map(|piece| [piece.left, piece.right, piece.high]);
    let levels = sorted(ends, f64::NEG_INFINITY, f64::INFINITY);
    let place = |of: &[f64], value: f64| of.partition_point(|known| *known < value - COINCIDENT);
    let mut edges: BTreeSet<(Node, Node)> = BTreeSet::new();
    let mut add = |from: Node, to: Node| {
        // What two pieces share, one way each, lies inside the wood.
        if from != to && !edges.remove(&(to, from)) {
            edges.insert((from, to));
        }
    };
    for piece in pieces {
        let (from, to) = (place(columns, piece.from), place(columns, piece.to));
        let (left, right) = (place(&levels, piece.left), place(&levels, piece.right));
        let high = place(&levels, piece.high);
        add((from, left), (to, right));
        (right..high).for_each(|level| add((to, level), (to, level + 1)));
        add((to, high), (from, high));
        (left..high).for_each(|level| add((from, level + 1), (from, level)));
    }
    let mut onward: BTreeMap<Node, Vec<Node>> = BTreeMap::new();
    for (from, to) in edges {
        onward.entry(from).or_default().push(to);
    }
    let at = |(x, y): Node| columns.get(x).zip(levels.get(y)).map(|(&x, &y)| Point::new(x, y));
    let mut rings = Vec::new();
    while let Some(start) = onward.keys().next().copied() {
        let (mut ring, mut node) = (Vec::new(), start);
        while let Some(next) = onward.get_mut(&node).and_then(Vec::pop) {
            ring.extend(at(node));
            node = next;
        }
        onward.retain(|_, ends| !ends.is_empty());
        rings.push(without_straight(&ring));
    }
    rings
}

/// The ring less the corners where it does not turn.
fn without_straight(ring: &[Point]) -> Vec<Point> {
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let after = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(before)
        .zip(after)
        .filter(|((at, before), after)| {
            (**at - **before).cross(**after - **at).abs() > COINCIDENT * COINCIDENT
        })
        .map(|((at, _), _)| *at)
        .collect()
}

/// A closed path through corners.
pub(super) fn closed(ring: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, &corner) in ring.iter().enumerate() {
        if index == 0 { path.move_to(corner) } else { path.line_to(corner) }
    }
    path.close_path();
    path
}

fn is_more_than_rounding(path: &BezPath) -> bool {
    path.area().abs() > LEAST_AREA
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::Moulding;
    use approx::assert_relative_eq;

    const SOLID: Rect = Rect::new(0.0, -45.0, 52.0, 0.0);

    fn blank(moulding: &Moulding) -> Blank {
        Blank::new(SOLID, &Profile::new(moulding), false)
    }

    fn corners(path: &BezPath) -> usize {
        // Less the one that closes it.
        path.elements().len() - 1
    }

    fn area(paths: &[BezPath]) -> f64 {
        paths.iter().map(Shape::area).sum()
    }

    #[test]
    fn a_rebate_and_what_a_wider_one_takes() {
        let blank = blank(&Moulding::Square);
        let (old, new) = (Rect::new(0.0, -17.0, 9.0, 0.0), Rect::new(0.0, -26.0, 14.0, 0.0));
        let before = blank.difference(&[old]);
        assert_eq!((before.len(), corners(&before[0])), (1, 6));
        assert_relative_eq!(area(&before), 52.0 * 45.0 - 9.0 * 17.0);
        let taken = blank.taken(&[old], &[new]);
        assert_eq!((taken.len(), corners(&taken[0])), (1, 6));
        assert_relative_eq!(area(&taken), 14.0 * 26.0 - 9.0 * 17.0);
    }

    #[test]
    fn a_groove_deeper_than_the_new_rebate_leaves_a_slot() {
        let blank = blank(&Moulding::Square);
        let groove = Rect::new(0.0, -20.0, 18.0, -15.0);
        let new = Rect::new(0.0, -26.0, 14.0, 0.0);
        let after = blank.difference(&[groove, new]);
        assert_relative_eq!(area(&after), 52.0 * 45.0 - 14.0 * 26.0 - 4.0 * 5.0);
        // The lip before the groove and the wood behind it.
        assert_eq!(blank.taken(&[groove], &[new]).len(), 2);
        assert_eq!(blank.taken(&[new], &[groove, new]).len(), 1);
    }

    #[test]
    fn a_bevel_is_a_corner_cut_off() {
        let blank = blank(&Moulding::Chamfer { width: 12.0, depth: 10.0 });
        let whole = blank.difference(&[]);
        assert_eq!((whole.len(), corners(&whole[0])), (1, 5));
        assert_relative_eq!(area(&whole), 52.0 * 45.0 - 60.0);
        // A platform half way down the bevel meets it 6 mm from the sight edge.
        let through = blank.difference(&[Rect::new(0.0, -40.0, 14.0, 0.0)]);
        assert_eq!(through.len(), 1);
        assert_relative_eq!(area(&through), 38.0 * 45.0 + 8.0 * 5.0 - 15.0);
    }

    #[test]
    fn a_cut_may_go_right_through_or_leave_two_pieces() {
        let blank =
            Blank::new(SOLID, &Profile::new(&Moulding::Chamfer { width: 4.0, depth: 4.0 }), true);
        assert_relative_eq!(area(&blank.difference(&[])), 52.0 * 45.0 - 16.0);
        let apart = blank.difference(&[Rect::new(20.0, -60.0, 30.0, 5.0)]);
        assert_eq!(apart.len(), 2);
        assert_relative_eq!(area(&apart), 42.0 * 45.0 - 16.0);
        assert!(blank.difference(&[SOLID.inflate(1.0, 1.0)]).is_empty());
    }

    // A quirk stands upright on the sight edge or further in: the curve then has two heights at one X.
    #[test]
    fn a_traced_quirk_has_its_area() {
        let quirk = [(0.0, 4.0), (3.0, 4.0), (3.0, 9.0), (8.0, 0.0)].map(Point::from).to_vec();
        let whole = blank(&Moulding::Traced(quirk)).difference(&[]);
        assert_eq!((whole.len(), corners(&whole[0])), (1, 7));
        assert_relative_eq!(area(&whole), 52.0 * 45.0 - 12.0 - 22.5);
    }
}
