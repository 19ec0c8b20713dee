//! Beads round daylights that are no rectangle: one along every edge, mitred where edges meet.

use super::Bead;
use crate::fit::UnitFit;
use crate::geometry::{Edge, SAME, Side};
use crate::sash::Sash;
use crate::survey::{Bar, Course};
use kurbo::{Point, Vec2};

/// Ends that lie closer than this along a bar are level, mm.
const NEAR: f64 = 0.01;

/// Beads along every edge of a unit's daylight, side by side; pieces of one line or circle are one bead.
pub(super) fn beads(unit: &UnitFit, height: f64) -> Vec<Bead> {
    let walls = unit.outlines.wall.outline().merged();
    let sight = &unit.outlines.sight;
    let mut found: Vec<(Side, Bead)> = Vec::new();
    for edge in sight.outline().merged() {
        let middle = edge.at(0.5);
        let own = sight
            .edges()
            .min_by(|(a, _), (b, _)| a.distance_to(middle).total_cmp(&b.distance_to(middle)));
        let Some((_, side)) = own else { continue };
        // The wall runs on the outside of its own sight edge: the one that looks the same way.
        let Some(wall) = beside(&edge, &walls) else { continue };
        found.push((side, bead(unit, side, &edge, &wall, height)));
    }
    let of_side = |side: Side| found.iter().filter(move |(own, _)| *own == side);
    let mut sorted = Vec::with_capacity(found.len());
    for side in Side::ALL {
        let count = of_side(side).count();
        for (index, (_, bead)) in of_side(side).enumerate() {
            let mut bead = bead.clone();
            if count > 1 {
                bead.place = format!("{}, piece {} of {count}", bead.place, index + 1);
            }
            sorted.push(bead);
        }
    }
    sorted
}

/// The wall beside a sight edge: the nearest to its middle of those that run as it does.
fn beside(edge: &Edge, walls: &[Edge]) -> Option<Edge> {
    let middle = edge.at(0.5);
    let alike = walls.iter().filter(|wall| {
        let along = wall.direction(wall.nearest(middle));
        along.dot(edge.direction(0.5)) > 0.9
            && matches!(wall, Edge::Arc(_)) == matches!(edge, Edge::Arc(_))
    });
    alike.min_by(|a, b| a.distance_to(middle).total_cmp(&b.distance_to(middle))).copied()
}

fn bead(unit: &UnitFit, side: Side, edge: &Edge, wall: &Edge, height: f64) -> Bead {
    let radius = |edge: &Edge| match edge {
        Edge::Arc(arc) => Some(arc.radius),
        Edge::Line(_) => None,
    };
    let along = edge.direction(0.5);
    // The widest place: a bead is planed down from there where the rebate tapers.
    let width =
        [0.0, 0.5, 1.0].map(|t| wall.distance_to(edge.at(t))).into_iter().fold(0.0, f64::max);
    let closed = (edge.start() - edge.end()).hypot() <= SAME;
    // Lower or left end first, as for straight ones: the bottom runs that way, the right too.
    let ends = match side {
        Side::Bottom | Side::Right => [0.0, 1.0],
        Side::Left | Side::Top => [1.0, 0.0],
    };
    let mitres = ends.map(|t| if closed { 90.0 } else { mitre(edge, wall, t) });
    let (from, to) = match edge {
        Edge::Line(_) => (edge.start(), edge.end()),
        Edge::Arc(_) => (edge.at(0.4), edge.at(0.6)),
    };
    Bead {
        label: String::new(),
        place: format!("{}, {side}", unit.light),
        long: wall.length().max(edge.length()),
        short: edge.length().min(wall.length()),
        width,
        height,
        mitres,
        edge: [from, to],
        inwards: Vec2::new(-along.y, along.x),
        radii: radius(wall).zip(radius(edge)).map(|(wall, sight)| [wall, sight]),
    }
}

/// Between the bead's length at an end (0 or 1) and the mitre from the wall's corner to that of the sight
/// edges, degrees: 90 where edges run on smoothly into each other.
fn mitre(edge: &Edge, wall: &Edge, t: f64) -> f64 {
    let across = edge.at(t) - wall.at(t);
    let along = if t < 0.5 { wall.direction(t) } else { -wall.direction(t) };
    if across.hypot() <= SAME {
        90.0
    } else {
        across.cross(along).abs().atan2(across.dot(along)).to_degrees()
    }
}

/// The pieces of face bead over a bar: longest length and middle line of each, and whether its ends are
/// square. Uprights run through, cross
/// pieces lie between them.
pub(super) fn over_bar(sash: &Sash, index: usize) -> Vec<(f64, [Point; 2], bool)> {
    let Some(bar) = sash.bars.get(index) else { return Vec::new() };
    let daylight = sash.outline.outline();
    let owners: Vec<usize> = sash.bars_by_owner().take_while(|&other| other != index).collect();
    let crossing = |other: usize| {
        let (own, other) = (sash.measured.bars.get(index), sash.measured.bars.get(other));
        let bends = |bar: &Bar| bar.course != Course::Through;
        own.zip(other)
            .is_some_and(|(own, other)| own.runs != other.runs || bends(own) || bends(other))
    };
    let pieces = |path: &Edge| {
        let mut pieces = daylight.stretches_inside(path);
        for other in owners.iter().filter(|&&other| crossing(other)) {
            let Some(over) = sash.bars.get(*other) else { continue };
            let Ok(strip) = over.strip(over.width) else { continue };
            pieces = pieces.iter().flat_map(|piece| outside(piece, &strip)).collect();
        }
        pieces
    };
    let half = bar.width / 2.0;
    let sides: Vec<Vec<Edge>> = [-half, half]
        .into_iter()
        .filter_map(|by| bar.path.shifted(by))
        .map(|e| pieces(&e))
        .collect();
    let middle = pieces(&bar.path);
    let whole = sides.iter().filter(|side| side.len() == middle.len());
    let told = middle.iter().enumerate().map(|(place, edge)| {
        let beside: Vec<&Edge> = whole.clone().filter_map(|side| side.get(place)).collect();
        let long = beside.iter().map(|edge| edge.length()).fold(edge.length(), f64::max);
        let level = |t: f64| {
            let off = |other: &&Edge| (other.at(t) - edge.at(t)).dot(edge.direction(t)).abs();
            beside.iter().all(|other| off(other) <= NEAR)
        };
        let square = beside.len() == sides.len() && level(0.0) && level(1.0);
        (long, [edge.start(), edge.end()], square)
    });
    told.collect()
}

/// The pieces of an edge outside an outline.
fn outside(edge: &Edge, strip: &crate::geometry::Outline) -> Vec<Edge> {
    let inside = strip.stretches_inside(edge);
    let mut from = 0.0;
    let mut left = Vec::with_capacity(inside.len() + 1);
    for piece in &inside {
        let (start, end) = (edge.nearest(piece.start()), edge.nearest(piece.end()));
        left.push((from, start));
        from = end;
    }
    left.push((from, 1.0));
    let pieces = left.into_iter().map(|(from, to)| edge.part(from, to));
    pieces.filter(|piece| piece.length() > SAME).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::geometry::{Head, Height, arched, raked};
    use crate::sash::tests::casement;
    use crate::survey::{UnitShape, Workshop};
    use approx::assert_relative_eq;

    fn beads_of(outline: crate::geometry::Sided) -> Vec<Bead> {
        let mut survey = casement();
        survey.bars.clear();
        survey.sight = outline.bounds().size();
        survey.outline = Some(outline);
        survey.unit.shape = UnitShape::Shaped;
        survey.clearance = crate::geometry::PerSide::all(2.0);
        survey.block_height = 2.0;
        let sash = Sash::new(&survey).unwrap();
        super::super::beads(&sash, &fit::fit(&sash, &Workshop::default()).unwrap())
    }

    // Closed form: a rebate of 14 mm round an arch of 850 mm radius over 800 mm: its wall has 864 mm; the
    // half span there is 414, its angle asin(414/864) on each side.
    #[test]
    fn a_bead_along_an_arch_has_two_radii_and_its_own_lengths() {
        let found = beads_of(
            arched(800.0, Height::Springing(900.0), Head::Segmental { rise: 100.0 }).unwrap(),
        );
        assert_eq!(found.len(), 4);
        let head = found.iter().find(|bead| bead.radii.is_some()).unwrap();
        let [wall, sight] = head.radii.unwrap();
        assert_relative_eq!(wall, 864.0, epsilon = 1e-6);
        assert_relative_eq!(sight, 850.0, epsilon = 1e-6);
        assert_relative_eq!(head.short, 832.9275, epsilon = 1e-4);
        assert_relative_eq!(head.long, 2.0 * 864.0 * (414.0_f64 / 864.0).asin(), epsilon = 1e-6);
        let foot = found.iter().find(|bead| bead.place.ends_with("bottom")).unwrap();
        assert_eq!(foot.mitres.map(|angle| (angle * 1e6).round() / 1e6), [45.0, 45.0]);
        assert_relative_eq!(foot.long, 828.0, epsilon = 1e-6);
    }

    // Closed form: with rebates of one width a mitre halves the angle between two edges. A 3-4-5 rake makes
    // 53.1301 and 126.8699 degrees with the jambs.
    #[test]
    fn mitres_halve_the_corners_of_a_raked_head() {
        let found = beads_of(raked(600.0, 700.0, 250.0).unwrap());
        let top = found.iter().find(|bead| bead.place.ends_with("top")).unwrap();
        assert_relative_eq!(top.mitres[0], 53.130_102 / 2.0, epsilon = 1e-5);
        assert_relative_eq!(top.mitres[1], 126.869_898 / 2.0, epsilon = 1e-5);
        assert_relative_eq!(top.short, 750.0, epsilon = 1e-9);
    }

    #[test]
    fn a_round_daylight_has_one_bead_all_round() {
        let found = beads_of(crate::geometry::circle(600.0).unwrap());
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].mitres, [90.0, 90.0]);
        assert_relative_eq!(found[0].long, 628.0 * std::f64::consts::PI, epsilon = 1e-6);
    }
}
