//! Beads round daylights that are no rectangle: one along every edge, mitred where edges meet.

use super::beads::{Bead, PIN_END, PIN_PITCH, fixings};
use crate::fit::{Facing, UnitFit};
use crate::geometry::{COINCIDENT, Edge, MinMax, Side};
use crate::survey::Finish;
use kurbo::Vec2;

/// Places along an edge at which the rebate's width is asked for: sixteenths, so that a round one is asked at its lowest.
const PLACES: u32 = 16;

/// Beads along every edge of a unit's daylight, side by side; pieces of one line or circle are one bead.
pub(super) fn shaped(unit: &UnitFit, finish: &Finish) -> Vec<Bead> {
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
        let Some(wall) = wall_along(&edge, &walls) else { continue };
        found.push((side, bead(unit, side, &edge, &wall, finish)));
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
fn wall_along(edge: &Edge, walls: &[Edge]) -> Option<Edge> {
    let middle = edge.at(0.5);
    let alike = walls.iter().filter(|wall| {
        let along = wall.direction(wall.nearest(middle));
        along.dot(edge.direction(0.5)) > 0.9
            && matches!(wall, Edge::Arc(_)) == matches!(edge, Edge::Arc(_))
    });
    alike.min_by(|a, b| a.distance_to(middle).total_cmp(&b.distance_to(middle))).copied()
}

fn bead(unit: &UnitFit, side: Side, edge: &Edge, wall: &Edge, finish: &Finish) -> Bead {
    let radius = |edge: &Edge| match edge {
        Edge::Arc(arc) => Some(arc.radius),
        Edge::Line(_) => None,
    };
    let along = edge.direction(0.5);
    let widths = (0..=PLACES)
        .map(|n| MinMax::even(wall.distance_to(edge.at(f64::from(n) / f64::from(PLACES)))));
    let width = widths.reduce(MinMax::or).unwrap_or(MinMax::even(0.0));
    let facing = Facing::new(finish, width.most);
    let closed = (edge.start() - edge.end()).hypot() <= COINCIDENT;
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
    let long = wall.length().max(edge.length());
    Bead {
        label: String::new(),
        place: format!("{}, {side}", unit.light),
        long,
        short: edge.length().min(wall.length()),
        width,
        height: facing.height,
        splay: facing.angle(),
        top: facing.wall - facing.shoulder,
        mitres,
        pins: fixings(long, PIN_PITCH, PIN_END),
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
    if across.hypot() <= COINCIDENT {
        90.0
    } else {
        across.cross(along).abs().atan2(across.dot(along)).to_degrees()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::geometry::{Head, Height, arched, raked};
    use crate::sash::{Sash, tests::casement};
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
