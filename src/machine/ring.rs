//! All round a pocket: out from an open light along a quarter circle, round, and back the same way.

use super::route::Path;
use super::sides::{self, SURE, Sides, travelled_along};
use super::split::EntryPoints;
use super::{MARGIN, NoWay};
use crate::geometry::{Arc, COINCIDENT, Edge, Join, MOVED, Outline, PerSide, Side, Sided};
use crate::passes::{Ring, Stage, slot_depth, steps};
use crate::sash::Sash;
use crate::survey::{Direction, Workshop};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// The paths of one ring, inside out: along sides where wood stands beyond what the loops all round take, then
/// these loops, one after the other. Where no wood stands along a side at all there is no loop all round.
pub(super) fn path(
    sash: &Sash,
    stage: Stage,
    ring: &Ring,
    workshop: &Workshop,
) -> Result<Vec<Path>, NoWay> {
    let (radius, direction) = (workshop.cutter.radius(), workshop.cutting.direction);
    let widths = sides::widths(sash, ring, radius);
    let (loops, each) = loops(stage, ring, widths.as_ref(), workshop)?;
    let lane = workshop.lane();
    let sides = widths.map(|widths| Sides::new(sash, ring, widths, (each, lane), radius));
    let sides = if goes_all_round(stage, workshop) { sides.map(Sides::all) } else { sides };
    let entries = EntryPoints::of_ring(sash, ring, radius);
    let (mut along, mut whole) = (Vec::new(), loops.as_slice());
    while let [_, outer @ ..] = whole {
        let stretches = sides.as_ref().and_then(|sides| sides.stretches(outer.len(), direction));
        let Some(stretches) = stretches else { break };
        // From the only stretch straight on into the only loop.
        let all_round = sides.as_ref().is_none_or(Sides::all_round);
        let on = match (outer, stretches.as_slice()) {
            ([last], [stretch]) if all_round => joined(last, stretch, direction),
            _ => None,
        };
        let joins = on.is_some();
        let ways = on.map_or(stretches, |on| vec![on]);
        let paths = ways.iter().map(|edges| from_light(&entries, edges));
        let Some(paths) = paths.collect::<Option<Vec<Path>>>() else { break };
        along.extend(paths);
        if joins {
            return Ok(along);
        }
        whole = outer;
    }
    let mut rounds: Option<Path> = None;
    for outline in whole {
        let round = Loop::new(sash, ring, outline, radius, direction)?;
        let path = rounds.get_or_insert_with(|| Path::from(round.lead.from));
        path.line_to(round.lead.from);
        round.follow(path);
    }
    along.extend(rounds);
    if along.is_empty() { Err(NoWay::Shape(radius)) } else { Ok(along) }
}

/// Whether the cutter goes by sides without wood as well: in the finishing cut, which takes what was kept on the wall
/// there where the sides beside it have some, and in a score of several layers, whose way in is cut by the first.
fn goes_all_round(stage: Stage, workshop: &Workshop) -> bool {
    stage == Stage::Finish
        || stage == Stage::Score && workshop.cutting.score_depth > slot_depth(workshop) + COINCIDENT
}

/// A stretch and once round the loop outside it from where it ends on that; none where it does not.
fn joined(outline: &Outline, stretch: &[Edge], direction: Direction) -> Option<Vec<Edge>> {
    let end = stretch.last()?.end();
    let (touch, index) = outline.nearest_on(end);
    let round = travelled(outline, touch, index, direction);
    (touch.distance(end) <= MOVED).then(|| [stretch, &round].concat())
}

/// Edges one after the other, in from the nearest light and out again; none where a standing bar is in the way.
pub(super) fn from_light(entries: &EntryPoints, edges: &[Edge]) -> Option<Path> {
    let (first, last) = (edges.first()?, edges.last()?);
    let mut path = Path::from(entries.beside(first.start())?);
    path.line_to(first.start());
    path.follow(edges);
    path.line_to(entries.beside(last.end())?);
    Some(path)
}

/// Widest step between a loop and the next one out, as a share of the cutter's diameter. In an inside
/// corner of angle θ the loop before reaches R past its own corner along the bisector, and the next, b
/// further out, comes back to (b − R)/sin(θ/2) past it; a step over R(1 + sin(θ/2)), 0.854 diameters where
/// square, would leave a post of wood between the two. Between arcs the angle changes from loop to loop.
fn widest_step(paths: &[Outline]) -> f64 {
    let sharpest = paths.iter().map(Outline::sharpest_corner).fold(PI, f64::min);
    f64::midpoint(1.0, (sharpest / 2.0).sin()) - SURE
}

/// Where the cutter's centre goes, loop by loop, inside out, and how far the loops are apart: the step never exceeds the side step, but
/// for the shallow scoring cut, which is a slot. Each loop keeps the same distance from the wall all
/// round, so that the last one is true to it.
fn loops(
    stage: Stage,
    ring: &Ring,
    widths: Option<&PerSide<f64>>,
    workshop: &Workshop,
) -> Result<(Vec<Outline>, f64), NoWay> {
    let diameter = workshop.cutter.diameter;
    let widest = ring.widest;
    if stage == Stage::Score {
        return Ok((inside(ring.wall.outline(), diameter / 2.0, 0.0, 1)?, widest));
    }
    let mut lane = workshop.lane();
    let mut count = steps(widest, lane).max(1);
    loop {
        let even = widest / f64::from(count);
        let each = widths.map_or(even, |widths| sides::apart(widths, (widest, count), lane));
        let paths = inside(ring.wall.outline(), diameter / 2.0, each, count)?;
        let most = widest_step(&paths) * diameter;
        if each <= most + COINCIDENT || most <= 0.0 {
            return Ok((paths, each));
        }
        // Closer loops reach less far in, where the corners are sharper.
        count = steps(widest, most).max(count + 1);
        lane = most.min(widest / f64::from(count));
    }
}

/// Paths `count` times `each` apart, the last one a cutter's radius from the wall.
fn inside(wall: &Outline, radius: f64, each: f64, count: u32) -> Result<Vec<Outline>, NoWay> {
    (0..count)
        .rev()
        .map(|index| {
            let inwards = radius + f64::from(index) * each;
            // An outside corner of the wall is turned round, so that the rim stays on it.
            wall.offset(-inwards, Join::Round).map_err(|_| NoWay::Shape(inwards))
        })
        .collect()
}

/// One loop: in, round, out.
struct Loop {
    lead: Lead,
    /// From where the lead meets the loop, round to there again.
    round: Vec<Edge>,
}

impl Loop {
    fn new(
        sash: &Sash,
        ring: &Ring,
        path: &Outline,
        radius: f64,
        direction: Direction,
    ) -> Result<Loop, NoWay> {
        let mut narrowest: f64 = 0.0;
        for light in lights(sash, ring) {
            let Some((touch, index)) = start(path, &light) else { continue };
            let round = travelled(path, touch, index, direction);
            match lead(&light, &round, radius) {
                Ok(lead) => return Ok(Loop { lead, round }),
                Err(narrow) => narrowest = narrowest.max(narrow),
            }
        }
        Err(NoWay::Entry(narrowest))
    }

    fn follow(&self, path: &mut Path) {
        path.along(&self.lead.way_in);
        path.once_round(&self.round);
        path.along(&self.lead.way_out);
    }
}

/// The lights of a ring, the best to come down in first: along its bottom, then the widest.
fn lights(sash: &Sash, ring: &Ring) -> Vec<Sided> {
    let lights = sash.lights.iter().filter(|light| ring.serves(light));
    let mut lights: Vec<Sided> = lights.map(|light| light.outline.clone()).collect();
    let narrow = |light: &Sided| light.bounds().size().min_side();
    let below = |light: &Sided| {
        let bottom = bottom(light).map(|edge| ring.sight.outline().distance_to(edge.at(0.5)));
        bottom.is_some_and(|away| away <= COINCIDENT)
    };
    lights.sort_by(|a, b| below(b).cmp(&below(a)).then(narrow(b).total_cmp(&narrow(a))));
    lights
}

/// The longest edge that looks down; of a light that stands on a tip, its longest.
fn bottom(light: &Sided) -> Option<&Edge> {
    let looks_down = light.edges().any(|(_, side)| side == Side::Bottom);
    let edges = light.edges().filter(|(_, side)| !looks_down || *side == Side::Bottom);
    edges.map(|(edge, _)| edge).max_by(|a, b| a.length().total_cmp(&b.length()))
}

/// Where `path` passes the middle of the light's bottom.
fn start(path: &Outline, light: &Sided) -> Option<(Point, usize)> {
    let middle = bottom(light)?.at(0.5);
    Some(path.nearest_on(middle))
}

/// Once round from `touch`, on the edge of that index.
pub(super) fn travelled(
    path: &Outline,
    touch: Point,
    index: usize,
    direction: Direction,
) -> Vec<Edge> {
    let edges = path.edges();
    let Some(first) = edges.get(index) else { return Vec::new() };
    let others = edges.iter().cycle().skip(index + 1).take(edges.len() - 1);
    let t = first.nearest(touch);
    let parts = [first.part(t, 1.0), first.part(0.0, t)];
    let [after, before] = parts.map(|part| Some(part).filter(|part| part.length() > COINCIDENT));
    travelled_along(after.into_iter().chain(others.copied()).chain(before).collect(), direction)
}

/// Quarter circles are tried at these multiples of the shortest way in: a round light takes only wider
/// ones.
const TRIED: [f64; 4] = [1.0, 1.5, 2.0, 3.0];

/// From an open light to a path and back: quarter circles that touch it, straight where the light is too
/// narrow for them.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Lead {
    /// Where the cutter comes down: free of wood.
    from: Point,
    way_in: Edge,
    way_out: Edge,
}

/// The lead to a closed path, in at its start and out at its end, for a cutter of `radius`.
///
/// # Errors
/// Twice the room there is round the best place tried, mm: less than the cutter and its margin need.
fn lead(light: &Sided, path: &[Edge], radius: f64) -> Result<Lead, f64> {
    let (Some(first), Some(last)) = (path.first(), path.last()) else { return Err(0.0) };
    let (touch, along) = (first.start(), first.direction(0.0));
    let inwards = inwards(path, along);
    let edge = light.outline().nearest_on(touch).0;
    let shortest = (edge - touch).dot(inwards).max(0.0) + radius + MARGIN;
    let room = |at: Point| {
        if light.outline().contains(at) { light.outline().distance_to(at) } else { 0.0 }
    };
    let needed = radius + MARGIN - COINCIDENT;
    for times in TRIED {
        let lead = times * shortest;
        let hub = touch + lead * inwards;
        let (from, to) = (hub - lead * along, hub + lead * last.direction(1.0));
        if room(from) >= needed && room(to) >= needed {
            return Ok(quarters(hub, lead, inwards, along));
        }
    }
    let hub = touch + shortest * inwards;
    if room(hub) >= needed {
        let (way_in, way_out) = (Edge::line(hub, touch), Edge::line(last.end(), hub));
        Ok(Lead { from: hub, way_in, way_out })
    } else {
        Err(2.0 * room(hub))
    }
}

fn quarters(hub: Point, radius: f64, inwards: Vec2, along: Vec2) -> Lead {
    // The touching place lies opposite to `inwards`, as seen from the hub.
    let touch = (-inwards).atan2();
    let turn = FRAC_PI_2 * (-inwards).cross(along).signum();
    let quarter = |start: f64| Edge::Arc(Arc { centre: hub, radius, start, sweep: turn });
    let way_in = quarter(touch - turn);
    Lead { from: way_in.start(), way_in, way_out: quarter(touch) }
}

/// The direction square to `along` that leads from a path round a light into it.
fn inwards(path: &[Edge], along: Vec2) -> Vec2 {
    let anticlockwise = path.iter().map(Edge::area_share).sum::<f64>() >= 0.0;
    let left = Vec2::new(-along.y, along.x);
    if anticlockwise { left } else { -left }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::MinMax;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;
    use kurbo::Rect;

    fn looped(direction: Direction) -> (Loop, Rect) {
        let sash = Sash::new(&casement()).unwrap();
        let wall = Outline::rectangle(sash.sight.inflate(14.0, 14.0)).unwrap();
        let ring = Ring {
            unit: 0,
            sight: sash.outline.clone(),
            wall: Sided::by_direction(wall.clone()),
            from: PerSide::all(MinMax::even(0.0)),
            to: PerSide::all(MinMax::even(14.0)),
            widest: 14.0,
        };
        let path = wall.offset(-6.0, Join::Round).unwrap();
        (Loop::new(&sash, &ring, &path, 6.0, direction).unwrap(), sash.sight.inflate(8.0, 8.0))
    }

    #[test]
    fn the_loop_keeps_the_rim_at_the_reach_and_the_leads_touch_it() {
        for direction in [Direction::Against, Direction::With] {
            let (path, centre) = looped(direction);
            for edge in &path.round {
                assert!(!centre.inflate(-1e-6, -1e-6).contains(edge.at(0.5)));
                assert!(centre.inflate(1e-6, 1e-6).contains(edge.end()));
            }
            let length: f64 = path.round.iter().map(Edge::length).sum();
            assert_relative_eq!(length, 2.0 * (centre.width() + centre.height()), epsilon = 1e-6);
            let (Edge::Arc(_), Edge::Arc(_)) = (path.lead.way_in, path.lead.way_out) else {
                panic!("there is room for quarter circles")
            };
            assert!((path.lead.way_in.start() - path.lead.from).hypot() < 1e-9);
            assert!((path.lead.way_in.end() - path.round[0].start()).hypot() < 1e-9);
            assert!((path.lead.way_out.start() - path.round.last().unwrap().end()).hypot() < 1e-9);
            // No kink where lead and loop meet.
            let along = path.lead.way_in.direction(1.0).dot(path.round[0].direction(0.0));
            assert_relative_eq!(along, 1.0, epsilon = 1e-12);
            assert_relative_eq!(path.lead.from.y, 7.0, epsilon = 1e-9);
        }
    }

    // School workshop sheet: a clockwise cutter goes clockwise round the inside of a template.
    #[test]
    fn against_the_rotation_is_clockwise_inside_a_wall() {
        let area = |path: &Loop| {
            let turn = |edge: &Edge| edge.start().to_vec2().cross(edge.end().to_vec2());
            path.round.iter().map(turn).sum::<f64>()
        };
        assert!(area(&looped(Direction::Against).0) < 0.0);
        assert!(area(&looped(Direction::With).0) > 0.0);
    }

    /// The paths round a wall 14 mm beyond the sight of the casement without bars, 12 mm thick cutter, lanes of 6 mm, in
    /// wood so wide at the bottom and none along the other sides.
    fn along_the_bottom(stage: Stage, width: f64) -> (Vec<Path>, f64) {
        let mut survey = casement();
        survey.bars.clear();
        let sash = Sash::new(&survey).unwrap();
        let to = PerSide::all(MinMax::even(14.0));
        let ring = Ring {
            unit: 0,
            sight: sash.outline.clone(),
            wall: Sided::by_direction(Outline::rectangle(sash.sight.inflate(14.0, 14.0)).unwrap()),
            from: PerSide { bottom: MinMax::even(14.0 - width), ..to },
            to,
            widest: width,
        };
        (path(&sash, stage, &ring, &Workshop::default()).unwrap(), sash.sight.width() + 28.0)
    }

    /// A path without its ways in and out.
    fn cut(path: &Path) -> f64 {
        let edges = path.edges();
        edges[1..edges.len() - 1].iter().map(Edge::length).sum()
    }

    // By hand: where only the bottom has wood, the cutter goes along that and no further. Wood of 5 mm is one lane from
    // corner to corner, 12 mm less than the wall; wood of 14 mm three, of which the last goes 14 - 6 = 8 mm on along
    // the bare sides at both ends, so that no scallop is left beside them.
    #[test]
    fn along_sides_without_wood_there_is_no_lane() {
        let (paths, wall) = along_the_bottom(Stage::Widen, 5.0);
        let [only] = &paths[..] else { panic!("{}", paths.len()) };
        assert_relative_eq!(cut(only), wall - 12.0, epsilon = 1e-9);
        let (paths, wall) = along_the_bottom(Stage::Widen, 14.0);
        let lengths: Vec<f64> = paths.iter().map(cut).collect();
        let [inner, middle, last] = lengths[..] else { panic!("{lengths:?}") };
        assert_relative_eq!(inner, wall - 12.0, epsilon = 1e-9);
        assert_relative_eq!(middle, wall - 12.0, epsilon = 1e-9);
        assert_relative_eq!(last, wall - 12.0 + 16.0, epsilon = 1e-9);
        // What was kept on the wall is taken all round.
        let (paths, wall) = along_the_bottom(Stage::Finish, 0.5);
        assert!(cut(&paths[0]) > 3.0 * wall);
    }
}
