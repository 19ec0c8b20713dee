//! The programs stage by stage: in one place, or in each set-up of a sash larger than the travel.

use super::doors::Doors;
use super::put_down::{Past, SetUp, put_down};
use super::route::Route;
use super::setups::{Windows, corners, rounds};
use super::split::View;
use super::{Feeds, NoWay, Program, Programs, air_run, bend, follow, split, text};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::geometry::Placement;
use crate::passes::{Pass, Plan, Stage};
use crate::sash::Sash;
use crate::survey::Workshop;
use kurbo::{Rect, Size};

/// What the programs are written from.
pub(super) struct Job<'a> {
    pub sash: &'a Sash,
    pub fit: &'a Fit,
    pub plan: &'a Plan,
    pub workshop: &'a Workshop,
    pub feeds: Feeds,
}

/// A pass with its whole way.
struct Way<'a> {
    pass: &'a Pass,
    route: Route,
    /// Where the cutter may come down.
    doors: Doors,
    round: u32,
}

/// Set-ups in order.
type Places = Vec<(SetUp, Stages)>;
/// One route a stage; none for the air run.
type Stages = Vec<(Option<Stage>, Route)>;

/// Set-ups along X and Y beyond the fewest, tried where an edge between two falls where no light can be
/// reached.
const MORE: [[u32; 2]; 5] = [[0, 0], [1, 0], [0, 1], [1, 1], [2, 2]];

impl Job<'_> {
    /// Everything with the sash's own zero.
    pub(super) fn in_one_place(&self) -> Programs {
        let mut findings = Vec::new();
        let mut stages: Stages = vec![(None, air_run::route(self.sash, self.fit, self.workshop))];
        for pass in self.passes() {
            if stages.last().is_none_or(|(stage, _)| *stage != Some(pass.stage)) {
                stages.push((Some(pass.stage), Route::default()));
            }
            let Some((_, route)) = stages.last_mut() else { continue };
            if let Err(blocked) = follow(self.sash, pass, self.workshop, route) {
                findings.push(blocked.finding(pass, self.workshop));
            }
        }
        let numbered = stages.iter().enumerate();
        let programs = numbered.map(|(index, (stage, route))| {
            let name = format!("{}-{}.ngc", index + 1, slug(*stage));
            self.program(name, *stage, &self.bent(route), None)
        });
        Programs { programs: programs.collect(), set_ups: Vec::new(), findings }
    }

    /// Set-up after set-up; with them come the findings of the travel.
    pub(super) fn in_set_ups(&self) -> (Programs, Vec<Finding>) {
        let (ways, mut findings) = self.ways();
        let last = ways.iter().map(|way| way.round).max().unwrap_or_default();
        let reach = split::reach(ways.iter().map(|way| &way.route)).unwrap_or(self.sash.outer);
        let mut told = Vec::new();
        let mut places = Places::new();
        for more in MORE {
            let windows = match Windows::new(reach, last + 1, more, self.workshop) {
                Ok(windows) => windows,
                Err(least) => {
                    let programs = Programs { programs: Vec::new(), set_ups: Vec::new(), findings };
                    return (programs, bed(Size::new(least[0], least[1]), self.workshop));
                }
            };
            let found = self.places(&ways, &windows);
            let done = found.1.iter().all(|finding| finding.verdict != Verdict::Stop);
            if done || told.is_empty() {
                (places, told) = found;
            }
            if done {
                break;
            }
        }
        findings.extend(told);
        let set_ups: Vec<SetUp> = places.iter().map(|(set_up, _)| *set_up).collect();
        let all = places.iter().flat_map(|(set_up, stages)| {
            stages.iter().map(move |(stage, route)| (set_up, *stage, route))
        });
        let numbered = all.enumerate().map(|(index, (set_up, stage, route))| {
            let name = format!("{:02}-setup{}-{}.ngc", index + 1, set_up.number, slug(stage));
            // Where the face lies is known in the sash's frame.
            let route = self.bent(route).placed(&set_up.place);
            self.program(name, stage, &route, Some((*set_up, set_ups.len())))
        });
        let programs = numbered.collect();
        let bed = split_bed(self.sash.outer.size(), &set_ups, self.workshop);
        (Programs { programs, set_ups, findings }, bed)
    }

    /// Every place with what is cut there, and what cannot be reached.
    fn places(&self, ways: &[Way], windows: &Windows) -> (Places, Vec<Finding>) {
        let (mut places, mut told) = (Places::new(), Vec::new());
        let mut past = None;
        let clear = self.workshop.machine.clear_height;
        for place in windows.places() {
            let window = windows.window(place, 0);
            let mut stages: Stages = vec![(None, self.air_run(window))];
            for way in ways {
                let Ok(view) = windows.view(place, way.round, clear) else { continue };
                if let Err(no_way) = add(way, &view, &mut stages) {
                    told.push(no_way.finding(way.pass, self.workshop));
                }
            }
            if stages.len() > 1 {
                let (place, reaches) = put_down(window, self.sash.outer, self.workshop);
                past = Past::worse(past, reaches);
                places.push((SetUp { number: 0, place, window }, stages));
            }
        }
        told.extend(past.map(|past| past.finding()));
        // It is turned once, for all places that ask for it.
        places.sort_by_key(|(set_up, _)| set_up.place.turned);
        for (index, (set_up, _)) in places.iter_mut().enumerate() {
            set_up.number = index + 1;
        }
        (places, told)
    }

    fn passes(&self) -> impl Iterator<Item = &Pass> {
        self.plan.passes.iter().filter(|pass| pass.stage != Stage::Corners)
    }

    /// Every pass as it would be cut in one place.
    fn ways(&self) -> (Vec<Way<'_>>, Vec<Finding>) {
        let (mut ways, mut findings) = (Vec::new(), Vec::new());
        let radius = self.workshop.cutter.radius();
        let rounds = rounds(&self.plan.passes, &self.sash.bars);
        let passes = self.plan.passes.iter().zip(rounds);
        for (pass, round) in passes.filter(|(pass, _)| pass.stage != Stage::Corners) {
            let mut route = Route::default();
            match follow(self.sash, pass, self.workshop, &mut route) {
                Ok(()) => {
                    let doors = Doors::new(self.sash, pass, radius);
                    ways.push(Way { pass, route, doors, round });
                }
                Err(blocked) => findings.push(blocked.finding(pass, self.workshop)),
            }
        }
        (ways, findings)
    }

    /// To each corner of the window.
    fn air_run(&self, window: Rect) -> Route {
        let clear = self.workshop.machine.clear_height;
        let mut route = Route::default();
        route.remark("round everything that this set-up reaches".into());
        for corner in corners(window) {
            route.rapid_to(corner, clear);
        }
        route.up(clear);
        route
    }

    fn bent(&self, route: &Route) -> Route {
        bend::bend(route, self.sash, self.workshop)
    }

    fn program(
        &self,
        name: String,
        stage: Option<Stage>,
        route: &Route,
        set_up: Option<(SetUp, usize)>,
    ) -> Program {
        let Job { sash, fit, plan, workshop, feeds } = *self;
        let minutes = route.minutes(&feeds, workshop.machine.rapid);
        let header = text::Header { sash, fit, plan, workshop, stage, minutes, set_up };
        let text = text::write(&header, route, &feeds);
        let place = set_up.map_or(Placement::HERE, |(set_up, _)| set_up.place);
        Program { name, stage, text, minutes, place }
    }
}

fn add(way: &Way, view: &View, stages: &mut Stages) -> Result<(), NoWay> {
    let mut part = Route::default();
    split::within(view, &way.route, way.pass, &way.doors, &mut part)?;
    if !part.steps().is_empty() {
        add_to(stages, way.pass.stage, part);
    }
    Ok(())
}

/// Adds to the route of a stage.
fn add_to(stages: &mut Stages, stage: Stage, part: Route) {
    match stages.iter_mut().find(|(of, _)| *of == Some(stage)) {
        Some((_, route)) => route.append(part),
        None => stages.push((Some(stage), part)),
    }
}

fn slug(stage: Option<Stage>) -> &'static str {
    stage.map_or("air-run", Stage::slug)
}

/// A size against the machine's travel.
pub(super) fn bed(size: Size, workshop: &Workshop) -> Vec<Finding> {
    judge(size, workshop, |verdict| {
        match verdict {
        Verdict::Clear => "The sash lies within the machine's travel.".into(),
        _ => "The sash is larger than the machine's travel, and that too short for several set-ups: cut it by hand, or on a larger machine.".into(),
    }
    })
}

/// Set-ups against the machine's travel.
fn split_bed(sash: Size, set_ups: &[SetUp], workshop: &Workshop) -> Vec<Finding> {
    let widest = |of: fn(&Rect) -> f64| set_ups.iter().map(|s| of(&s.window)).fold(0.0, f64::max);
    let size = Size::new(widest(Rect::width), widest(Rect::height));
    let places =
        if set_ups.len() == 1 { "1 set-up" } else { &format!("{} set-ups", set_ups.len()) };
    judge(size, workshop, |_| {
        format!(
            "The sash, {:.0} by {:.0} mm, is larger than the machine's travel: it is cut in {places}.",
            sash.width, sash.height
        )
    })
}

fn judge(size: Size, workshop: &Workshop, words: impl Fn(Verdict) -> String) -> Vec<Finding> {
    let sizes = [("X", size.width), ("Y", size.height)];
    let axes = sizes.into_iter().zip(workshop.machine.bed);
    axes.map(|((axis, size), travel)| {
        Finding::at_most(
            "machine.bed",
            format!("{axis} travel"),
            Quantity::mm(size),
            Bounds::stop(Bound::geometry(travel)),
            |verdict, _| words(verdict),
        )
    })
    .collect()
}
