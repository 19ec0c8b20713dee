//! Along a bar: in sideways from the open light at one end, then round and round from both sides inwards, so that the
//! wood is always on the same side of the cutter. Where it cannot turn at an end, since wood stands there, it goes the
//! whole length in one direction only, and back above the wood.

use super::route::Path;
use super::{MARGIN, NoWay};
use crate::geometry::{COINCIDENT, Edge, Join, Outline, REWORKED, backwards};
use crate::passes::{Cut, Pass, Stage, Strip, slot_depth, steps};
use crate::sash::{PlacedBar, Sash};
use crate::survey::{Direction, Member, OldGlazing, Workshop};
use kurbo::Point;

/// Steps along a bar at which a place to come down is looked for, mm.
const SEARCH: f64 = 1.0;

/// The paths of one strip.
pub(super) fn path(
    sash: &Sash,
    stage: Stage,
    strip: &Strip,
    workshop: &Workshop,
) -> Result<Vec<Path>, NoWay> {
    let radius = workshop.cutter.radius();
    let bar = &strip.bar;
    let centres = strip.reach.offset(-radius, Join::Round).map_err(|_| NoWay::Shape(radius))?;
    let direction = workshop.cutting.direction;
    let way = Way { path: &bar.path, direction, reach: &strip.reach, centres: &centres };
    let (low, high) = (-strip.width / 2.0, strip.width / 2.0);
    let lane = workshop.lane();
    let count = steps(strip.width, lane).max(1);
    let each = strip.width / f64::from(count);
    let near: Vec<f64> = (1..=count).map(|index| low + each * f64::from(index) - radius).collect();
    // The last runs a little past the one beside it, so that no feather is left: over there is air. No further than half
    // of what it laps over the one before.
    let half = (2.0 * radius - each) / 2.0;
    let past = high + MARGIN.min(half) - radius;
    let outside = -bar.measured.width / 2.0 - radius - MARGIN;
    let mut runs = vec![way.run(outside)?];
    for across in near.iter().copied().chain([past, low, high]) {
        runs.push(way.run(across)?);
    }
    let enter = entrance(sash, &runs, radius)?;
    let begin = || -> Result<Path, NoWay> { Ok(Path::from(way.at(outside, enter)?)) };
    let flanks = [way.run(low)?, way.run(high)?];
    if goes_round(sash, stage, strip, workshop) {
        // The last of an odd number is in the middle, whichever end the cutter begins at.
        let over = if count % 2 == 1 { half } else { MARGIN.min(half) };
        let mut path = begin()?;
        let flanks = (stage == Stage::LowerBars).then_some(&flanks);
        way.round_and_round(&mut path, (&near, over), enter, flanks)?;
        return Ok(vec![path]);
    }
    let mut paths = Vec::new();
    for across in near.iter().copied().take(near.len() - 1).chain([past]) {
        let (mut path, run) = (begin()?, way.run(across)?);
        path.line_to(run.line.at(enter));
        path.stretch(&run.line, enter, run.start);
        path.stretch(&run.line, run.start, run.end);
        paths.push(path);
    }
    if stage == Stage::LowerBars {
        // No ring clears the ends yet: the scallops between the steps would stand there at their full
        // height when the ring comes by deeper. One round along the ends and edges takes them.
        let ([near, far], mut path) = (&flanks, begin()?);
        path.line_to(far.line.at(enter));
        path.stretch(&far.line, enter, far.start);
        path.stretch(&far.line, far.start, far.end);
        way.round_end(&mut path, (&far.line, far.end), (&near.line, near.end));
        path.stretch(&near.line, near.end, near.start);
        way.round_end(&mut path, (&near.line, near.start), (&far.line, far.start));
        paths.push(path);
    }
    Ok(paths)
}

/// Whether the cutter goes round and round a bar.
fn goes_round(sash: &Sash, stage: Stage, strip: &Strip, workshop: &Workshop) -> bool {
    strip.bar.through && (stage != Stage::LowerBars || ends_are_open(sash, strip, workshop))
}

/// Whether a pass goes over the bar that the one before has just been round: from the end of that one over its floor, and
/// out into the light beside the bar, nothing stands.
pub(super) fn follows(before: &Pass, pass: &Pass, sash: &Sash, workshop: &Workshop) -> bool {
    let (Cut::Strip(strip), true) = (&pass.cut, before.cut == pass.cut) else { return false };
    let straight = matches!(strip.bar.path, Edge::Line(_)) && sash.outline.is_rectangle();
    straight
        && before.stage == pass.stage
        && goes_round(sash, pass.stage, strip, workshop)
        && ends_are_low(sash, pass.stage, strip, workshop)
}

/// The same pass begun at the other end of the bar, along its other flank, so that the wood is on the same side; none
/// where it does not go round and round.
pub(super) fn turned(sash: &Sash, pass: &Pass, workshop: &Workshop) -> Option<Pass> {
    let Cut::Strip(strip) = &pass.cut else { return None };
    let bar = PlacedBar { path: strip.bar.path.reversed(), ..strip.bar.clone() };
    let cut = Cut::Strip(Strip { bar, ..strip.clone() });
    goes_round(sash, pass.stage, strip, workshop).then(|| Pass { cut, ..pass.clone() })
}

/// Whether each layer may be begun at either end of a bar. Its lanes have to lie alike from both, as an odd number of them
/// does, or scallops of the layer before would stand in their way; and the way in to either may meet nothing that was
/// left by a layer begun at the other one, as it would where the floor of the old rebate stands there.
pub(super) fn begins_freely(sash: &Sash, pass: &Pass, workshop: &Workshop) -> bool {
    let Cut::Strip(strip) = &pass.cut else { return false };
    let lane = workshop.lane();
    steps(strip.width, lane) % 2 == 1 && ends_are_low(sash, pass.stage, strip, workshop)
}

/// Whether nothing that would hinder a cutter on its way stands at the ends of a bar: before any ring clears them, that is
/// the floors of the old rebates there.
fn ends_are_low(sash: &Sash, stage: Stage, strip: &Strip, workshop: &Workshop) -> bool {
    let low = |(_, member): (_, &Member)| is_low(strip, member, workshop);
    stage != Stage::LowerBars || sash.measured.members.iter().all(low)
}

/// Whether the cutter turns round at the ends of the bar where that still stands.
pub(super) fn turns_at_ends(sash: &Sash, pass: &Pass, workshop: &Workshop) -> bool {
    let Cut::Strip(strip) = &pass.cut else { return false };
    pass.stage == Stage::LowerBars && goes_round(sash, pass.stage, strip, workshop)
}

/// Whether nothing but the bar stands where the cutter turns at its ends: the floors of the old rebates there lie as deep
/// as it goes, or stand no wider than a lane, or no higher than a slot may be deep.
fn ends_are_open(sash: &Sash, strip: &Strip, workshop: &Workshop) -> bool {
    let lane = workshop.lane();
    let narrow = |old| matches!(old, OldGlazing::Rebate { width, .. } if width <= lane);
    let open = |(_, member): (_, &Member)| is_low(strip, member, workshop) || narrow(member.old);
    sash.measured.members.iter().all(open)
}

/// Whether the floor of a member's old rebate lies as deep as a bar is lowered, or stands no higher than a slot may be
/// deep.
fn is_low(strip: &Strip, member: &Member, workshop: &Workshop) -> bool {
    let least = strip.bar.measured.rebate_depth - slot_depth(workshop) - COINCIDENT;
    matches!(member.old, OldGlazing::Rebate { depth, .. } if depth >= least)
}

/// The lines along which a cutter may go past a bar. *Across* is the distance from the bar's centre
/// line, from the open side into the wood. Against the rotation the wood lies to the left of travel.
struct Way<'a> {
    path: &'a Edge,
    direction: Direction,
    /// How far its rim may reach.
    reach: &'a Outline,
    /// How far the cutter's centre may go.
    centres: &'a Outline,
}

/// A line and the stretch of it that the cutter may go, both ends from 0 to 1 along the line.
#[derive(Clone, Copy)]
struct Run {
    line: Edge,
    start: f64,
    end: f64,
}

impl Way<'_> {
    /// The whole line at that distance across.
    fn line(&self, across: f64) -> Result<Edge, NoWay> {
        // To the right of the path lies what is across.
        let line = self.path.shifted(across).ok_or(NoWay::Shape(across.abs()))?;
        Ok(match self.direction {
            Direction::Against => line.reversed(),
            Direction::With => line,
        })
    }

    fn at(&self, across: f64, along: f64) -> Result<Point, NoWay> {
        Ok(self.line(across)?.at(along))
    }

    fn run(&self, across: f64) -> Result<Run, NoWay> {
        let line = self.line(across)?;
        let stretches = self.centres.stretches_inside(&line).into_iter();
        let longest = stretches.max_by(|a, b| a.length().total_cmp(&b.length()));
        let stretch = longest.ok_or(NoWay::Entry(0.0))?;
        let (start, end) = (line.nearest(stretch.start()), line.nearest(stretch.end()));
        Ok(Run { line, start, end })
    }

    /// Steps from both sides inwards, in turn, as many as `near`, the last so much further `over` the one beside it;
    /// `flanks` where no ring clears the ends: then the cutter goes by both of them at either end once, when it first
    /// turns there, so that no scallop is left between steps.
    fn round_and_round(
        &self,
        path: &mut Path,
        (near, over): (&[f64], f64),
        enter: f64,
        flanks: Option<&[Run; 2]>,
    ) -> Result<(), NoWay> {
        for index in 0..near.len() {
            let Some(&across) = near.get(index / 2) else { break };
            let last = index + 1 == near.len();
            let across = if last { across + over } else { across };
            let back = index % 2 == 1;
            let run = self.run(if back { -across } else { across })?;
            let (from, to) = if back { (run.end, run.start) } else { (run.start, run.end) };
            let begin = run.line.at(from);
            if index == 0 {
                path.line_to(run.line.at(enter));
                path.stretch(&run.line, enter, from);
                if let Some(flanks) = flanks.filter(|_| last) {
                    self.by_both(path, (&run.line, from), flanks, |flank| flank.start);
                }
            }
            path.follow(&self.across(path.end(), begin));
            path.stretch(&run.line, from, to);
            match (flanks, index) {
                (Some(flanks), 0) => self.by_both(path, (&run.line, to), flanks, |flank| flank.end),
                (Some([low, high]), 1) => {
                    self.by_both(path, (&run.line, to), &[*high, *low], |flank| flank.start);
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// From a place on a line along the walls by both flanks, at that end of theirs.
    fn by_both(
        &self,
        path: &mut Path,
        from: (&Edge, f64),
        [near, far]: &[Run; 2],
        end: impl Fn(&Run) -> f64,
    ) {
        let (near, far) = ((&near.line, end(near)), (&far.line, end(far)));
        self.round_end(path, from, near);
        self.round_end(path, near, far);
    }

    /// From a place on one line along the walls to a place on the next, by way of the places where the rim
    /// reaches the corners between lines and walls: where a wall runs askew, these lie beyond the lines.
    fn round_end(&self, path: &mut Path, from: (&Edge, f64), to: (&Edge, f64)) {
        let [begin, end] = [from, to].map(|(line, t)| line.at(t));
        let by = [begin, self.foot(from.0, begin), self.foot(to.0, end), end];
        for pair in by.windows(2) {
            if let [a, b] = *pair {
                path.follow(&self.across(a, b));
            }
        }
    }

    /// Where the cutter's centre is when its rim reaches the corner between a line and the wall that the
    /// line ends on at `end`; `end` itself where it ends away from the walls.
    fn foot(&self, line: &Edge, end: Point) -> Point {
        if self.centres.distance_to(end) > REWORKED {
            return end;
        }
        let stretches = self.reach.stretches_inside(line);
        let corners = stretches.iter().flat_map(|stretch| [stretch.start(), stretch.end()]);
        let near = |corner: &Point| (*corner - end).hypot2();
        let corner = corners.min_by(|a, b| near(a).total_cmp(&near(b)));
        corner.map_or(end, |corner| self.centres.nearest_on(corner).0)
    }

    /// Along the walls from one line to the next; straight across where the bar ends on another, away
    /// from the walls.
    fn across(&self, from: Point, to: Point) -> Vec<Edge> {
        if (to - from).hypot() <= COINCIDENT {
            return Vec::new();
        }
        if [from, to].iter().any(|&end| self.centres.distance_to(end) > REWORKED) {
            return vec![Edge::line(from, to)];
        }
        let there = self.centres.between(from, to);
        let back = self.centres.between(to, from);
        let length = |edges: &[Edge]| edges.iter().map(Edge::length).sum::<f64>();
        if length(&there) <= length(&back) { there } else { backwards(&back) }
    }
}

/// How far along the bar the cutter comes down beside it, on the first of the runs: as near to their
/// beginning as a light leaves room, and where all of them can be reached sideways.
fn entrance(sash: &Sash, runs: &[Run], radius: f64) -> Result<f64, NoWay> {
    let Some(beside) = runs.first() else { return Err(NoWay::Entry(0.0)) };
    let length = beside.line.length();
    let room = |along: f64| {
        let at = beside.line.at(along);
        let light = sash.lights.iter().find(|light| light.outline.outline().contains(at));
        light.map_or(0.0, |light| light.outline.outline().distance_to(at))
    };
    let needed = radius + MARGIN - COINCIDENT;
    let start = runs.iter().map(|run| run.start).fold(0.0, f64::max);
    let end = runs.iter().map(|run| run.end).fold(1.0, f64::min);
    let (mut along, mut best) = (start, 0.0_f64);
    while along < end {
        let found = room(along);
        best = best.max(found);
        if found >= needed {
            let no = if along > start { along - SEARCH / length } else { start };
            return Ok(first(no, along, |t| room(t) >= needed));
        }
        along += SEARCH / length;
    }
    Err(NoWay::Entry(2.0 * best))
}

/// The first place between `no` and `yes` that holds, by halving.
fn first(mut no: f64, mut yes: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..40 {
        let middle = f64::midpoint(no, yes);
        if holds(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    yes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::passes::TimberLeft;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    // Closed form: a bar 20 mm wide from y = 0 up to a wall that rises with x at 45°, for a cutter of 5 mm
    // radius. The rim reaches the corner (10, 110) from 5 mm square to the wall, and the corner (−10, 90) from
    // its own foot; both lie 5/√2 further in X than the corners.
    #[test]
    fn at_an_askew_end_the_rim_reaches_both_corners() {
        let corners = [(-100.0, -10.0), (100.0, -10.0), (100.0, 200.0), (-100.0, 0.0)];
        let reach = Outline::polygon(&corners.map(Point::from)).unwrap();
        let centres = reach.offset(-5.0, Join::Round).unwrap();
        let bar = Edge::line(Point::new(0.0, -50.0), Point::new(0.0, 250.0));
        let way = Way { path: &bar, direction: Direction::With, reach: &reach, centres: &centres };
        let (far, near) = (way.run(10.0).unwrap(), way.run(-10.0).unwrap());
        assert_relative_eq!(far.line.start().x, 10.0);
        let mut path = Path::from(far.line.at(far.end));
        way.round_end(&mut path, (&far.line, far.end), (&near.line, near.end));
        let by = 5.0 / 2.0_f64.sqrt();
        for (line, corner) in
            [(&far.line, Point::new(10.0, 110.0)), (&near.line, Point::new(-10.0, 90.0))]
        {
            let end = if corner.x > 0.0 { far.line.at(far.end) } else { near.line.at(near.end) };
            let foot = way.foot(line, end);
            assert_relative_eq!(foot.x, corner.x + by, epsilon = 1e-9);
            assert_relative_eq!(foot.y, corner.y - by, epsilon = 1e-9);
        }
        let reached: Vec<f64> = path.edges().iter().map(|edge| edge.end().x).collect();
        let right = reached.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        assert_relative_eq!(right, 10.0 + by, epsilon = 1e-9);
        assert_relative_eq!(*reached.last().unwrap(), -10.0, epsilon = 1e-9);
    }

    // By hand: a web of 13 mm in lanes of at most 6 is three of 4.33 mm, the outer ones 13/2 - 4.33 + 6 = 8.17 mm off the
    // middle, the last along it, whichever end the cutter begins at; and it ends where the other order begins.
    #[test]
    fn begun_at_the_other_end_a_bar_is_cut_along_the_same_lines() {
        let sash = Sash::new(&casement()).unwrap();
        let bar = sash.cut_bars()[0].clone();
        let strip = Strip { bar, width: 13.0, reach: sash.outline.outline().clone() };
        let own = Pass {
            stage: Stage::Deepen,
            place: strip.bar.name(),
            cut: Cut::Strip(strip),
            from_depth: 17.0,
            to_depth: 20.0,
            left: TimberLeft { under: 20.0, beside: None },
        };
        let workshop = Workshop::default();
        let paths = [own.clone(), turned(&sash, &own, &workshop).unwrap()].map(|pass| {
            let Cut::Strip(strip) = &pass.cut else { panic!("a strip") };
            path(&sash, pass.stage, strip, &workshop).unwrap().swap_remove(0)
        });
        let lines = paths.each_ref().map(|path| {
            let long = path.edges().iter().filter(|edge| edge.length() > 500.0);
            let mut lines: Vec<f64> = long.map(|edge| edge.start().x - 268.0).collect();
            lines.sort_by(f64::total_cmp);
            lines
        });
        for lines in lines {
            let [low, middle, high] = lines[..] else { panic!("{lines:?}") };
            assert_relative_eq!(high, 13.0 / 2.0 - 13.0 / 3.0 + 6.0, epsilon = 1e-9);
            assert_relative_eq!(low, -high, epsilon = 1e-9);
            assert_relative_eq!(middle, 0.0, epsilon = 1e-9);
        }
        let [own, other] = paths;
        assert!(own.end().distance(other.start()) < 50.0);
        assert!(own.end().distance(own.start()) > 800.0);
    }
}
