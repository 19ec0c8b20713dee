//! The routes stage by stage: in one place, or in each set-up of a sash larger than the travel.

use super::across::{Across, CutIn, Taken, across, stretches};
use super::place::{FREE, Overhang, SetUp, place_on_machine};
use super::route::{Path, Route, Speeds, Stretch};
use super::split::{Open, Part, View, Whole};
use super::windows::{OVERLAPS, Windows, rounds};
use super::{ABOVE, NoWay, Paths, clean, clear_height, strip, with_cutter_for};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::geometry::{Edge, Join, Placement, corners};
use crate::language::{Text, text};
use crate::passes::{Cut, Pass, Plan, Stage};
use crate::sash::Sash;
use crate::survey::Workshop;
use kurbo::{Point, Rect, Size};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the routes are made from.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    pub sash: &'a Sash,
    pub fit: &'a Fit,
    pub plan: &'a Plan,
    pub workshop: &'a Workshop,
}

/// The routes of a sash, still in its own frame and over a flat face.
pub(super) struct Routes {
    /// In the order of the work; without a set-up where the sash lies within the travel.
    pub places: Vec<(Option<SetUp>, Stages)>,
    /// Sizes against the travel.
    pub bed: Vec<Finding>,
    /// What the cutter cannot reach.
    pub blocked: Vec<Finding>,
}

/// One route a stage, in the order of the work; none for the air run.
pub(super) type Stages = BTreeMap<Option<Stage>, Route>;

type Places = Vec<(SetUp, Stages)>;

/// Room between a sash and the machine parked behind it, mm.
const BEHIND: f64 = 20.0;

/// A pass along a bar begun at its other end.
struct Turned {
    whole: Arc<Whole>,
    /// Of the bar.
    index: usize,
    /// Whether each layer may be begun at either end, whatever the others were.
    freely: bool,
}

/// Which bars are begun at their other end, stage by stage, once that is decided.
type Ends = BTreeMap<(Stage, usize), bool>;

/// A pass with its whole path.
struct Way<'a> {
    pass: &'a Pass,
    whole: Arc<Whole>,
    /// The same begun at the other end, where that may be.
    turned: Option<Turned>,
    round: u32,
    /// Its place in the plan.
    index: usize,
}

/// What a set-up does of a pass.
struct Done {
    /// Whether it cuts anything.
    cuts: bool,
    /// Whether all of it is gone in its window then.
    whole: bool,
}

/// So many rounds shorter is the window of a set-up in which a later one finds nothing left: no wood is nearer to what
/// it leaves out than a cutter's radius, wherever the sash was put down a little off.
const BESIDE: u32 = 2;

/// Set-ups along X and Y beyond the fewest, tried where an edge between two falls where no light can be
/// reached, or along a bar.
const MORE: [[u32; 2]; 5] = [[0, 0], [1, 0], [0, 1], [1, 1], [2, 2]];

impl Job<'_> {
    /// In one place where the sash lies within the travel, or else in set-ups.
    pub(super) fn routes(&self, paths: &Paths) -> Routes {
        self.routed(paths, |ways| vec![(None, self.in_one_place(ways))])
    }

    /// As [`Job::routes`], but without a route where the sash lies within the travel: paths alone tell what
    /// the cutter cannot reach there.
    pub(super) fn judged(&self, paths: &Paths) -> Routes {
        self.routed(paths, |_| Vec::new())
    }

    fn routed(
        &self,
        paths: &Paths,
        in_one_place: impl FnOnce(&[Way]) -> Vec<(Option<SetUp>, Stages)>,
    ) -> Routes {
        let (ways, blocked) = self.ways(paths);
        if self.workshop.machine.takes(self.sash.outer.size()) {
            let bed = bed(self.sash.outer.size(), self.workshop);
            Routes { places: in_one_place(&ways), bed, blocked }
        } else {
            self.in_set_ups(&ways, blocked)
        }
    }

    /// Every pass as it would be cut in one place.
    fn ways(&self, paths: &Paths) -> (Vec<Way<'_>>, Vec<Finding>) {
        let (mut ways, mut blocked) = (Vec::new(), Vec::new());
        let passes = &self.plan.passes;
        for (index, (pass, round)) in passes.iter().zip(rounds(passes)).enumerate() {
            match paths.of(self.sash, pass, self.workshop) {
                Some(Ok(whole)) => {
                    let turned = self.turned(paths, pass);
                    ways.push(Way { pass, whole, turned, round, index });
                }
                Some(Err(no_way)) => blocked.push(no_way.finding(self.sash, pass, self.workshop)),
                None => {}
            }
        }
        (ways, blocked)
    }

    /// A pass begun at the other end of its bar.
    fn turned(&self, paths: &Paths, pass: &Pass) -> Option<Turned> {
        let turned = strip::turned(self.sash, pass, self.workshop)?;
        let whole = paths.of(self.sash, &turned, self.workshop)?.ok()?;
        let Cut::Strip(strip) = &turned.cut else { return None };
        let freely = strip::begins_freely(self.sash, pass, self.workshop);
        Some(Turned { whole, index: strip.bar.index, freely })
    }

    /// Cuts paths of a pass; over `floor` to the first where the route ends on that of its last pass, just there.
    fn cut(
        &self,
        way: &Way,
        paths: &[&Path],
        (clear, open, across, floor): (f64, &Open, &[Vec<Across>], Option<Rect>),
        (route, taken): (&mut Route, &mut Taken),
    ) {
        if way.pass.stage == Stage::CleanCorners {
            return self.clean(way, paths, clear, route);
        }
        let across = across.get(way.index).map_or(&[][..], Vec::as_slice);
        let lane = self.workshop.lane();
        let speeds = Speeds::new(self.sash, self.workshop);
        route.remark(way.pass.to_string());
        let depth = way.pass.to_depth;
        let stretches = stretches(paths, across, (lane, depth), taken);
        for (index, (path, stretches)) in paths.iter().zip(stretches).enumerate() {
            let heights = (clear, -depth);
            let floor = floor.filter(|_| index == 0);
            let free = |at| open.way(at, path.start()).or_else(|| Some(path.led_to(at, floor?)));
            route.cut((path.start(), &stretches), heights, speeds, free);
        }
    }

    /// Corner after corner, each down to its depth.
    fn clean(&self, way: &Way, paths: &[&Path], clear: f64, route: &mut Route) {
        let workshop = with_cutter_for(Some(way.pass.stage), self.workshop);
        let open = Open::new(self.sash, workshop.cutter.radius());
        let speeds = Speeds::new(self.sash, &workshop);
        route.remark(way.pass.to_string());
        for path in paths {
            for depth in clean::steps(way.pass.to_depth, &workshop) {
                let whole = [Stretch::whole(path)];
                let heights = (clear, -depth);
                route.cut((path.start(), &whole), heights, speeds, |at| open.way(at, path.start()));
            }
        }
    }

    fn in_one_place(&self, ways: &[Way]) -> Stages {
        let clear = clear_height(self.sash, self.workshop);
        let open = Open::new(self.sash, self.workshop.cutter.radius());
        let across = across(self.sash, &self.plan.passes, self.workshop, CutIn::One);
        let mut stages = Stages::from([(None, self.air_run())]);
        let (mut before, mut ends, mut taken) = (None, Ends::new(), Taken::new());
        for way in ways {
            let route = stages.entry(Some(way.pass.stage)).or_default();
            let follows = self.follows(before.replace(way.pass), way.pass);
            let turned = way.turned.as_ref();
            let turned = turned.map(|turned| (turned, turned.whole.paths.iter().collect()));
            let own = way.whole.paths.iter().collect();
            let paths = begun(route, way.pass.stage, own, turned, &mut ends);
            let cut = (clear, &open, across.as_slice(), follows.then_some(self.sash.outer));
            self.cut(way, &paths, cut, (route, &mut taken));
        }
        ended(stages, clear, self.park())
    }

    /// Set-up after set-up.
    fn in_set_ups(&self, ways: &[Way], mut blocked: Vec<Finding>) -> Routes {
        let last = ways.iter().map(|way| way.round).max().unwrap_or_default();
        let reach = ways.iter().filter_map(|way| way.whole.bounds()).reduce(|a, b| a.union(b));
        let reach = reach.unwrap_or(self.sash.outer);
        // How far from what is wanted, with it what is cut and what cannot be reached.
        let mut found: Option<(u8, (Places, Vec<Finding>))> = None;
        let tries = OVERLAPS.iter().flat_map(|overlap| MORE.map(|more| (more, *overlap)));
        for wanted in tries {
            let windows = match Windows::new(
                reach,
                last + 1,
                wanted,
                (self.sash.cut_bars(), self.workshop),
            ) {
                // The sash is turned once, for all places that ask for it.
                Ok(windows) => windows.with_last(|window| self.placed(window).0.turned),
                Err(_) if found.is_some() => continue,
                Err([width, height]) => {
                    let bed = bed(Size::new(width, height), self.workshop);
                    return Routes { places: Vec::new(), bed, blocked };
                }
            };
            let beside = self.workshop.cutter.radius();
            let parted = windows.part_lengthwise(self.sash.cut_bars(), last + 1, beside);
            let tried = self.places(ways, &windows, parted);
            let off = if tried.1.iter().any(|finding| finding.verdict == Verdict::Stop) {
                2
            } else {
                u8::from(parted)
            };
            if found.as_ref().is_none_or(|(before, _)| off < *before) {
                found = Some((off, tried));
            }
            if off == 0 {
                break;
            }
        }
        let (_, (places, unreached)) = found.unwrap_or_default();
        blocked.extend(unreached);
        let set_ups: Vec<SetUp> = places.iter().map(|(set_up, _)| *set_up).collect();
        let bed = split_bed(self.sash.outer.size(), &set_ups, self.workshop);
        let places = places.into_iter().map(|(set_up, stages)| (Some(set_up), stages)).collect();
        Routes { places, bed, blocked }
    }

    /// Every place with what is cut there, and what cannot be reached.
    fn places(&self, ways: &[Way], windows: &Windows, parted: bool) -> (Places, Vec<Finding>) {
        let (mut places, mut findings) = (Places::new(), Vec::new());
        let mut worst = None;
        let clear = clear_height(self.sash, self.workshop);
        let open = Open::new(self.sash, self.workshop.cutter.radius());
        let curved = self.sash.cut_bars().iter().any(|bar| !bar.is_square());
        let cut_in = if parted || curved { CutIn::Parted } else { CutIn::Several };
        let across = across(self.sash, &self.plan.passes, self.workshop, cut_in);
        let homes: Vec<_> = ways.iter().map(|way| home(way, ways, windows)).collect();
        let mut gone: Vec<Vec<Rect>> = ways.iter().map(|_| Vec::new()).collect();
        for &place in windows.places() {
            let window = windows.window(place, 0);
            let mut stages = Stages::from([(None, self.air_run_round(window))]);
            let here = ways.iter().zip(&homes).zip(&mut gone);
            let here = here.filter(|((_, home), _)| home.is_none_or(|home| home == place));
            let (mut before, mut ends, mut taken) = (None, Ends::new(), Taken::new());
            for ((way, _), gone) in here {
                let Some(view) = windows.view(place, way.round, clear) else { continue };
                let cut = (&open, across.as_slice(), cut_in, before);
                match self.add(way, (&view, gone), cut, (&mut ends, &mut taken, &mut stages)) {
                    Ok(done) => {
                        before = if done.cuts { Some(way.pass) } else { before };
                        gone.extend(done.whole.then(|| emptied(way, place, windows)));
                    }
                    Err(no_way) => {
                        findings.push(no_way.finding(self.sash, way.pass, self.workshop));
                    }
                }
            }
            if stages.len() > 1 {
                let (place, overhang) = self.placed(window);
                worst = Overhang::worse(worst, overhang);
                places.push((SetUp { number: 0, place, window }, ended(stages, clear, None)));
            }
        }
        findings.extend(worst.map(|overhang| overhang.finding()));
        for (index, (set_up, _)) in places.iter_mut().enumerate() {
            set_up.number = index + 1;
        }
        (places, findings)
    }

    /// Whether a pass goes over the floor that the one `before` has cut just there.
    fn follows(&self, before: Option<&Pass>, pass: &Pass) -> bool {
        before.is_some_and(|before| strip::follows(before, pass, self.sash, self.workshop))
    }

    /// How the sash lies for a window.
    fn placed(&self, window: Rect) -> (Placement, Option<Overhang>) {
        place_on_machine(window, self.sash.extent(), self.workshop)
    }

    /// Adds what of a pass is cut there, but for what lies where the same pass is `gone`, after what of the one `before`.
    fn add(
        &self,
        way: &Way,
        (view, gone): (&View, &[Rect]),
        (open, across, cut_in, before): (&Open, &[Vec<Across>], CutIn, Option<&Pass>),
        (ends, taken, stages): (&mut Ends, &mut Taken, &mut Stages),
    ) -> Result<Done, NoWay> {
        let radius = with_cutter_for(Some(way.pass.stage), self.workshop).cutter.radius();
        let parts = way.whole.within(view, self.sash, way.pass, radius)?;
        let paths = to_cut(&parts, gone);
        let (cuts, all) = (!paths.is_empty(), all_reached(&parts));
        if cuts {
            let route = stages.entry(Some(way.pass.stage)).or_default();
            let several = cut_in == CutIn::Several;
            let turned = way.turned.as_ref().filter(|_| several);
            let turned = turned.and_then(|turned| {
                let within = turned.whole.within(view, self.sash, way.pass, radius);
                Some((turned, within.ok()?))
            });
            // What is left to another set-up is left by either order.
            let turned = turned.as_ref().filter(|(_, parts)| all && all_reached(parts));
            let turned = turned.map(|(turned, parts)| (*turned, to_cut(parts, gone)));
            let paths = begun(route, way.pass.stage, paths, turned, ends);
            let follows = several && all && self.follows(before, way.pass);
            // What stands between the round ends of lanes at the window's edge is as tall as all layers, since their ways
            // lie alike: no way to the side may meet it.
            let floor = follows.then(|| view.window.bounds().inflate(-radius, -radius));
            self.cut(way, &paths, (view.clear, open, across, floor), (route, taken));
        }
        Ok(Done { cuts, whole: all && !parts.is_empty() })
    }

    /// The run before the first cut, spindle off: at clear height round each new wall as the cutter will go, and at
    /// each corner down to just above the face, so that the joiner sees where the machine will go.
    fn air_run(&self) -> Route {
        let clear = clear_height(self.sash, self.workshop);
        let mut route = Route::default();
        for unit in &self.fit.units {
            let wall = unit.outlines.wall.outline();
            let way = wall.offset(-self.workshop.cutter.radius(), Join::Round);
            let way = way.unwrap_or_else(|_| wall.clone());
            let corners: Vec<Point> = way.corners().collect();
            route.remark(format!(
                "round the new wall, {} - at each corner down to {ABOVE} mm above the face",
                unit.light
            ));
            for edge in way.edges() {
                if route.at() != Some(edge.start()) {
                    route.rapid_to(edge.start(), clear);
                }
                if corners.contains(&edge.start()) {
                    route.touch(ABOVE.min(clear), clear);
                }
                match edge {
                    Edge::Line(line) => route.rapid_to(line.p1, clear),
                    Edge::Arc(_) => route.follow(&[*edge]),
                }
            }
        }
        route.up(clear);
        route
    }

    /// Where the machine ends, so that the sash can be lifted out: behind it, as far as the travel goes. None where it
    /// is not known how the sash lies in the travel: then it ends above the cut.
    fn park(&self) -> Option<Point> {
        let machine = &self.workshop.machine;
        let [before_x, before_y] = machine.zero?;
        let [width, height] = machine.bed;
        let cutter = &self.workshop.cutter;
        let body = cutter.holder.map_or(0.0, |holder| holder.diameter / 2.0).max(cutter.radius());
        let within =
            |at: f64, before: f64, travel: f64| at.min(travel - before - FREE).max(FREE - before);
        let behind = self.sash.extent().y1 + BEHIND + body;
        let middle = self.sash.outer.center().x;
        Some(Point::new(within(middle, before_x, width), within(behind, before_y, height)))
    }

    /// To each corner of the window.
    fn air_run_round(&self, window: Rect) -> Route {
        let clear = clear_height(self.sash, self.workshop);
        let mut route = Route::default();
        route.remark("round everything that this set-up reaches".into());
        for corner in corners(window) {
            route.rapid_to(corner, clear);
        }
        route.up(clear);
        route
    }
}

/// The only place that cuts a pocket: the first that reaches all of its passes, in every round. None where none does,
/// and for bars.
fn home(way: &Way, ways: &[Way], windows: &Windows) -> Option<(usize, usize)> {
    let unit = |way: &Way| match &way.pass.cut {
        Cut::Ring(ring) | Cut::Clean { ring, .. } => Some(ring.unit),
        Cut::Strip(_) | Cut::Corners { .. } => None,
    };
    let own = unit(way)?;
    let all = ways.iter().filter(|other| unit(other) == Some(own));
    let bounds = all.clone().filter_map(|way| way.whole.bounds()).reduce(|a, b| a.union(b))?;
    let last = all.map(|way| way.round).max().unwrap_or_default();
    let mut places = windows.places().iter().copied();
    places.find(|place| windows.window(*place, last).contains_rect(bounds))
}

/// Where nothing of a pass is left once it is cut in a place: in all of its window where that holds the whole pass.
fn emptied(way: &Way, place: (usize, usize), windows: &Windows) -> Rect {
    let window = windows.window(place, way.round);
    let whole = way.whole.bounds().is_some_and(|bounds| window.contains_rect(bounds));
    if whole { window } else { windows.window(place, way.round + BESIDE) }
}

/// The paths of what can be reached, but for what lies whole where it is `gone`.
fn to_cut<'p>(parts: &'p [Part], gone: &[Rect]) -> Vec<&'p Path> {
    let left = parts.iter().filter(|part| !gone.iter().any(|window| part.lies_in(*window)));
    left.filter_map(Part::reached).collect()
}

fn all_reached(parts: &[Part]) -> bool {
    parts.iter().all(|part| part.reached().is_some())
}

/// Of two orders of one pass that which begins nearer to where the route has come, or as the layer before where that
/// decides.
fn begun<'p>(
    route: &Route,
    stage: Stage,
    own: Vec<&'p Path>,
    turned: Option<(&Turned, Vec<&'p Path>)>,
    ends: &mut Ends,
) -> Vec<&'p Path> {
    let Some((Turned { index, freely, .. }, turned)) = turned else { return own };
    let away = |paths: &[&Path]| {
        let ends = route.at().zip(paths.first());
        ends.map_or(0.0, |(at, path)| at.distance(path.start()))
    };
    let decided = ends.get(&(stage, *index)).copied().filter(|_| !freely);
    let turns = decided.unwrap_or_else(|| away(&turned) < away(&own));
    ends.insert((stage, *index), turns);
    if turns { turned } else { own }
}

/// Every route with the cutter up at its end, and out of the way.
fn ended(mut stages: Stages, clear: f64, park: Option<Point>) -> Stages {
    for route in stages.values_mut() {
        route.up(clear);
        if let Some(park) = park {
            route.rapid_to(park, clear);
        }
    }
    stages
}

/// A size against the machine's travel.
fn bed(size: Size, workshop: &Workshop) -> Vec<Finding> {
    judge(size, workshop, |verdict| match verdict {
        Verdict::Clear => text!("machine-within-travel"),
        _ => text!("machine-too-small"),
    })
}

/// Set-ups against the machine's travel.
fn split_bed(sash: Size, set_ups: &[SetUp], workshop: &Workshop) -> Vec<Finding> {
    let widest = |of: fn(&Rect) -> f64| set_ups.iter().map(|s| of(&s.window)).fold(0.0, f64::max);
    let size = Size::new(widest(Rect::width), widest(Rect::height));
    judge(size, workshop, |_| {
        text!(
            "machine-in-set-ups",
            width = format!("{:.0}", sash.width),
            height = format!("{:.0}", sash.height),
            count = set_ups.len()
        )
    })
}

fn judge(size: Size, workshop: &Workshop, words: impl Fn(Verdict) -> Text) -> Vec<Finding> {
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
