//! The least time that any order of cuts takes at the survey's own limits.
//!
//! *Path*: how far the cutter goes in wood. The wood is taken in as few levels as the survey allows; on the frame the
//! first two are of a `widen_step`, in old painted fibre. No level runs across an old platform, since a stage ends there
//! and the joiner looks. In each level the cutter goes along each side of each wall in as many lanes of `side_step` as the wood there is wide, whole
//! ones, and clears the bars likewise: their plan area over the lane, where they cross once, and as much more as whole
//! lanes take. Score and finishing cut go along the wall once, the score where there is wood.
//!
//! *Fixed*: what comes to that whatever the path. For each stage and place one way down at the plunging feed and up again,
//! the wait for the spindle, and the air run as it is asked for.
//!
//! *Back*: wood is cut on one side of the cutter only, so each lane that does not end where it began wants a way back
//! before the next of its stage: straight from its end to its beginning, over the wood or below at feed, whichever is
//! quicker. So it is along sides that want more lanes than the others, and for every lap that a set-up cuts off.
//!
//! *By area* lanes need not be whole: no cutter could do that, but it wants no knowledge of sides. *Across* is the path with
//! full levels from the new platform up, whatever stage they fall in: less by a level where that saves one.

use super::wood::Wood;
use fillister::geometry::{Edge, Join, Outline};
use fillister::job::Work;
use fillister::machine::clear_height;
use fillister::passes::{Cut, Pass, Stage};
use fillister::survey::Workshop;
use kurbo::{Point, Rect};

/// How far above the face rapid moves end that come down over an opening, mm.
const ABOVE: f64 = 2.0;

/// Minutes.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Bound {
    pub(super) path: f64,
    pub(super) across: f64,
    pub(super) by_area: f64,
    pub(super) fixed: f64,
    pub(super) back: f64,
}

/// Speeds, mm/min, and the height of rapid moves, mm.
struct Pace {
    feed: f64,
    plunge: f64,
    rapid: f64,
    clear: f64,
}

impl Pace {
    fn new(work: &Work, workshop: &Workshop) -> Pace {
        let (machine, cutting) = (&workshop.machine, &workshop.cutting);
        let chips = f64::from(workshop.cutter.flutes) * cutting.chip_load;
        let feed = machine.max_feed.min(machine.spindle * chips);
        let (plunge, rapid) = (machine.max_plunge.min(feed), machine.rapid);
        Pace { feed, plunge, rapid, clear: clear_height(&work.sash, workshop) }
    }

    /// Down from where rapid moves run to `depth`, and up again.
    fn down_and_up(&self, depth: f64) -> f64 {
        let above = ABOVE.min(self.clear);
        (above + depth) / self.plunge + (self.clear - above + self.clear + depth) / self.rapid
    }

    /// From one place at `depth` to another.
    fn back(&self, length: f64, depth: f64) -> f64 {
        (length / self.feed).min(length / self.rapid + self.down_and_up(depth))
    }
}

pub(super) fn bound(wood: &Wood, work: &Work, workshop: &Workshop) -> Bound {
    let pace = Pace::new(work, workshop);
    let units = work.fit.units.iter();
    let walls: Vec<Wall> =
        units.map(|unit| Wall::new(unit.outlines.wall.outline(), workshop)).collect();
    let job = Job { wood, work, workshop, walls: &walls };
    let along = |parted| job.way(parted).map(|way| way / pace.feed);
    let ([path, by_area], [across, _]) = (along(true), along(false));
    Bound {
        path,
        across,
        by_area,
        fixed: fixed(work, workshop, &walls, &pace),
        back: job.back(&pace),
    }
}

/// What a bound is of.
struct Job<'a> {
    wood: &'a Wood,
    work: &'a Work,
    workshop: &'a Workshop,
    walls: &'a [Wall],
}

impl Job<'_> {
    fn lane(&self) -> f64 {
        self.workshop.cutting.side_step * self.workshop.cutter.diameter
    }

    /// Levels on the frame, from and to.
    fn on_the_frame(&self, parted: bool) -> Vec<(f64, f64)> {
        let cutting = &self.workshop.cutting;
        let (depth, shallow) = (self.work.fit.depth, cutting.widen_step);
        let (face, step) = (depth.min(2.0 * shallow), cutting.step_depth.max(shallow));
        let members = self.work.sash.measured.members.iter();
        let platforms = members.map(|(_, member)| member.old.depth());
        let platform = platforms.fold(depth, f64::min).max(face);
        let below = if parted {
            [levels(face, platform, step), levels(platform, depth, step)].concat()
        } else {
            levels(face, depth, step)
        };
        [levels(0.0, face, shallow), below].concat()
    }

    /// Levels on the bars that are cut down.
    fn on_the_bars(&self, parted: bool) -> Vec<(f64, f64)> {
        let (depth, step) = (self.work.fit.depth, self.workshop.cutting.step_depth);
        let bars = self.work.sash.cut_bars().iter();
        let platform = bars.map(|bar| bar.measured.rebate_depth).fold(depth, f64::min);
        match (self.work.sash.cut_bars(), parted) {
            ([], _) => Vec::new(),
            (_, true) => [levels(0.0, platform, step), levels(platform, depth, step)].concat(),
            (_, false) => levels(0.0, depth, step),
        }
    }

    /// How far the cutter goes in wood, mm, by whole lanes and by area.
    fn way(&self, parted: bool) -> [f64; 2] {
        let (lane, cutting) = (self.lane(), &self.workshop.cutting);
        let (mut way, mut area) = (0.0, 0.0);
        for level in self.on_the_frame(parted) {
            for wall in self.walls {
                let widths = wall.widths(self.wood, level, cutting.finish_allowance);
                for (edge, width) in wall.edges.iter().zip(&widths) {
                    for index in 0..lanes_of(*width, lane) {
                        let shorter = wall.diameter + 2.0 * f64::from(index) * lane;
                        way += (edge.length() - shorter).max(0.0);
                    }
                }
                area += wall.area(&widths) / lane;
            }
        }
        for level in self.on_the_bars(parted) {
            let beside = |wall: &Wall| wall.area(&wall.widths(self.wood, level, 0.0));
            let bars =
                self.wood.area(-level.0, -level.1) - self.walls.iter().map(beside).sum::<f64>();
            area += bars.max(0.0) / lane;
            way += whole_lanes(self.work, level.1, lane) * bars.max(0.0) / lane;
        }
        for wall in self.walls {
            let mut laps = 0.0;
            if cutting.score_depth > 0.0 {
                let scored = wall.widths(self.wood, (0.0, cutting.score_depth), 0.0);
                let scored = wall.edges.iter().zip(scored).filter(|(_, width)| *width > 0.0);
                laps += scored.map(|(edge, _)| edge.length() - wall.diameter).sum::<f64>();
            }
            if cutting.finish_allowance > 0.0 {
                laps += wall.way.perimeter();
            }
            (way, area) = (way + laps, area + laps);
        }
        [way, area]
    }

    /// Minutes of the ways back.
    fn back(&self, pace: &Pace) -> f64 {
        let (lane, cutting) = (self.lane(), &self.workshop.cutting);
        let (depth, mut back) = (self.work.fit.depth, 0.0);
        let mut stages: Vec<Vec<(f64, f64)>> = vec![Vec::new(); 2];
        let platform = |level: &(f64, f64)| {
            self.work
                .sash
                .measured
                .members
                .iter()
                .all(|(_, member)| level.1 > member.old.depth() + 1e-6)
        };
        for level in self.on_the_frame(true) {
            stages[usize::from(platform(&level))].push(level);
        }
        stages.push(vec![(0.0, cutting.score_depth)]);
        stages.push(vec![(0.0, depth)]);
        for wall in self.walls {
            for part in wall.windows(self.work) {
                for (index, stage) in stages.iter().enumerate() {
                    let of_level = |&(from, to): &(f64, f64)| {
                        let kept = if index < 2 { cutting.finish_allowance } else { 0.0 };
                        let widths = wall.widths(self.wood, (from, to), kept);
                        let once = |lanes: u32| if index < 2 { lanes } else { lanes.min(1) };
                        let lanes: Vec<u32> =
                            widths.iter().map(|width| once(lanes_of(*width, lane))).collect();
                        let ways = wall.ways_back(&lanes, part);
                        ways.into_iter().map(|length| pace.back(length, to)).collect::<Vec<_>>()
                    };
                    let ways: Vec<f64> = stage.iter().flat_map(of_level).collect();
                    // After the last of a stage there is none.
                    back += ways.iter().sum::<f64>() - ways.iter().copied().fold(0.0, f64::max);
                }
            }
        }
        back
    }
}

/// The whole sash, or what each set-up reaches.
fn windows(work: &Work) -> Vec<Option<Rect>> {
    let windows = work.programs.set_ups.iter().map(|set_up| Some(set_up.window));
    if work.programs.set_ups.is_empty() { vec![None] } else { windows.collect() }
}

fn fixed(work: &Work, workshop: &Workshop, walls: &[Wall], pace: &Pace) -> f64 {
    let parts = work.programs.programs.iter().flat_map(|program| &program.parts);
    let cutting = parts.filter(|part| !matches!(part.stage, None | Some(Stage::CleanCorners)));
    let mut minutes = cutting.count() as f64 * workshop.machine.spindle_wait / 60.0;
    // Once down for each stage and place, in each window that has any of it.
    let mut seen: Vec<(&Pass, f64)> = Vec::new();
    for pass in &work.plan.passes {
        match seen
            .iter_mut()
            .find(|(other, _)| other.stage == pass.stage && other.place == pass.place)
        {
            Some((_, depth)) => *depth = pass.to_depth.max(*depth),
            None => seen.push((pass, pass.to_depth)),
        }
    }
    for (pass, depth) in seen {
        let reaches = |edge: &Edge, window: &Option<Rect>| {
            let inside = window.map(|window| Outline::rectangle(window).unwrap());
            inside.is_none_or(|window| !window.stretches_inside(edge).is_empty())
        };
        let places = match &pass.cut {
            Cut::Ring(ring) => {
                let (wall, windows) = (&walls[ring.unit], walls[ring.unit].windows(work));
                let cut = |window: &&Option<Rect>| {
                    wall.way.edges().iter().any(|edge| reaches(edge, window))
                };
                windows.iter().filter(cut).count()
            }
            Cut::Strip(strip) => {
                windows(work).iter().filter(|window| reaches(&strip.bar.path, window)).count()
            }
            _ => 0,
        } as f64;
        minutes += places * pace.down_and_up(depth);
    }
    let set_ups = &work.programs.set_ups;
    if set_ups.is_empty() {
        // Round each wall, and down over each of its corners.
        let above = pace.clear - ABOVE.min(pace.clear);
        for wall in walls {
            let corners = wall.edges.len() as f64;
            minutes += wall.way.perimeter() / pace.rapid;
            minutes += corners * above * (1.0 / pace.plunge + 1.0 / pace.rapid);
        }
    } else {
        let round = |window: Rect| 2.0 * window.width() + window.height();
        minutes += set_ups.iter().map(|set_up| round(set_up.window)).sum::<f64>() / pace.rapid;
    }
    minutes
}

/// From and to of levels no deeper than `step`, full ones from below.
fn levels(from: f64, to: f64, step: f64) -> Vec<(f64, f64)> {
    let (mut all, mut down) = (Vec::new(), to);
    while down > from + 1e-9 {
        let up = (down - step).max(from);
        all.push((up, down));
        down = up;
    }
    all
}

/// Whole lanes over a width; a hundredth of one is let go.
fn lanes_of(width: f64, lane: f64) -> u32 {
    (width / lane - 0.01).ceil().max(0.0) as u32
}

/// How many times as long whole lanes along the bars are as their area over a lane, down to `depth`: over their webs, or
/// over all of them where their old platforms go as well.
fn whole_lanes(work: &Work, depth: f64, lane: f64) -> f64 {
    let (mut whole, mut even) = (0.0, 0.0);
    for bar in work.sash.cut_bars() {
        let own = &bar.measured;
        let width = if depth > own.rebate_depth + 1e-6 { own.width } else { own.web() };
        let length: f64 = {
            let inside = work.sash.outline.outline().stretches_inside(&bar.path);
            inside.iter().map(Edge::length).sum()
        };
        whole += length * (width / lane - 1e-9).ceil();
        even += length * width / lane;
    }
    if even > 0.0 { whole / even } else { 1.0 }
}

/// A wall, and the way of the cutter's centre along it.
struct Wall {
    edges: Vec<Edge>,
    way: Outline,
    diameter: f64,
}

impl Wall {
    fn new(wall: &Outline, workshop: &Workshop) -> Wall {
        let way = wall.offset(-workshop.cutter.radius(), Join::Round).unwrap();
        Wall { edges: wall.edges().to_vec(), way, diameter: workshop.cutter.diameter }
    }

    /// The set-ups that cut it: one that reaches all of it, or each what it reaches; none for a sash in one place.
    fn windows(&self, work: &Work) -> Vec<Option<Rect>> {
        let whole = |window: &Option<Rect>| {
            window.is_none_or(|window| window.contains_rect(self.way.bounds()))
        };
        let all = windows(work);
        if all.iter().any(whole) { vec![None] } else { all }
    }

    /// How wide the wood between two depths lies along each edge, less what is kept, mm.
    fn widths(&self, wood: &Wood, level: (f64, f64), kept: f64) -> Vec<f64> {
        let width = |edge: &Edge| (wood.width_along(edge, level.0, level.1) - kept).max(0.0);
        self.edges.iter().map(width).collect()
    }

    /// The plan area of strips of these widths, corners once, mm².
    fn area(&self, widths: &[f64]) -> f64 {
        let next = widths.iter().cycle().skip(1);
        let all = self.edges.iter().zip(widths).zip(next);
        all.map(|((edge, width), next)| edge.length() * width - width * next).sum()
    }

    /// From the end to the beginning of every lane that is not closed, mm, in a window if there is one.
    fn ways_back(&self, lanes: &[u32], window: Option<Rect>) -> Vec<f64> {
        let window = window.map(|window| Outline::rectangle(window).unwrap());
        let mut found = Vec::new();
        for count in 1..=lanes.iter().copied().max().unwrap_or(0) {
            let mut pieces: Vec<(Point, Point)> = Vec::new();
            // The way has the edges of the wall, shorter, and turns between them where those turn outwards.
            for edge in self.way.edges() {
                let own = self.edges.iter().zip(lanes).min_by(|a, b| {
                    let off = |own: &Edge| own.distance_to(edge.at(0.5));
                    off(a.0).total_cmp(&off(b.0))
                });
                if own.is_some_and(|(_, own)| *own >= count) {
                    let inside = window.as_ref().map(|window| window.stretches_inside(edge));
                    let inside = inside.unwrap_or_else(|| vec![*edge]);
                    pieces.extend(inside.iter().map(|piece| (piece.start(), piece.end())));
                }
            }
            let meet = |a: Point, b: Point| a.distance(b) < 1e-3;
            let mut runs: Vec<(Point, Point)> = Vec::new();
            for (start, end) in pieces {
                match runs.last_mut() {
                    Some(last) if meet(last.1, start) => last.1 = end,
                    _ => runs.push((start, end)),
                }
            }
            if let [first, .., last] = runs[..]
                && meet(last.1, first.0)
            {
                runs[0].0 = last.0;
                runs.pop();
            }
            let open = runs.iter().map(|(start, end)| start.distance(*end));
            found.extend(open.filter(|length| *length > 1e-3));
        }
        found
    }
}
