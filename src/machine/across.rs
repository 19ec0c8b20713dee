//! Wood that still stands where a way leads across it, bars above all: there the cutter is in a slot, with wood on
//! both sides, and goes down in so much smaller steps that it never meets more than a full bite sideways at a full
//! step.

use super::route::{Path, Stretch};
use super::{MARGIN, strip};
use crate::geometry::{COINCIDENT, Edge, Join, Outline};
use crate::passes::{Cut, Pass, Stage, Strip, depths, slot_depth};
use crate::sash::{PlacedBar, Sash};
use crate::survey::{OldGlazing, Workshop};
use kurbo::{Point, Vec2};
use std::collections::BTreeMap;

/// Longest way in a slot, in cutters, that is none to speak of: it is over before the cutter gives way (common
/// practice, no source).
const SHORT: f64 = 0.75;

/// Cosine of the angle from which on a way leads across a bar rather than along it.
const ACROSS: f64 = 0.7;

/// The same of what is no lane along it at all: past the end of a bar a steep head may lead nearly along it.
const ASKEW: f64 = 0.99;

/// Cosine of the angle to a way from which on a place lies beside it rather than before or behind.
const ABEAM: f64 = 0.1;

/// What stands across a pass.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Across {
    place: Place,
    /// Depths to go down to one after the other, before that of the pass, mm below the face.
    depths: Vec<f64>,
    /// The same where no pass before has been, of what is then taller than a step.
    tall: Option<Tall>,
    /// Of the cutter, mm.
    diameter: f64,
}

/// A bar that stands taller than a step above a pass round a pocket, but for what ways of passes before have taken of it.
#[derive(Debug, Clone, PartialEq)]
struct Tall {
    /// Its index.
    bar: usize,
    depths: Vec<f64>,
    /// How deep a way before must have been at the least, mm below the face.
    least: f64,
    /// How far from the axis of the cutter wood counts, mm: what it is off by may be left at the rim.
    core: f64,
}

/// Ways of passes before across the bars that stand there, by the index of the bar, each with its depth, mm.
pub(super) type Taken = BTreeMap<usize, Vec<(Edge, f64)>>;

/// Where the axis of a cutter is that meets it.
#[derive(Debug, Clone, PartialEq)]
enum Place {
    /// On a bar, or so little beyond that it may still touch it.
    Bar(Outline),
    /// The same on the bar that the pass itself cuts down, which runs that way: of its path all but the lanes may be in
    /// a slot.
    Own(Outline, Edge),
    /// The same where a first way along it is in a slot as well.
    Along(Outline, Edge),
    /// Beyond the sight edges, where frame and lips stand.
    Beyond(Outline),
}

/// How far down a bar is cut, mm below the face.
struct Lowered<'a> {
    bar: &'a PlacedBar,
    web: f64,
    whole: f64,
    /// How far down its ends are, which reach on past the strips that lower it.
    ends: f64,
    /// How far the rim reaches where it is lowered.
    reach: Option<&'a Outline>,
}

impl<'a> Lowered<'a> {
    fn new(bar: &'a PlacedBar) -> Lowered<'a> {
        Lowered { bar, web: 0.0, whole: bar.measured.rebate_depth, ends: 0.0, reach: None }
    }

    /// The width of what of it stands in front of a pass that goes down to `depth`.
    fn standing(&self, depth: f64) -> f64 {
        let Lowered { bar, web, whole, .. } = self;
        let below = |top: f64| top < depth - COINCIDENT;
        match (below(*whole), below(*web)) {
            (true, _) => bar.measured.width,
            (false, true) => bar.measured.web(),
            (false, false) => 0.0,
        }
    }

    /// How far below the face what of it stands in front of a pass that goes down to `depth` begins, mm.
    fn top(&self, depth: f64) -> f64 {
        if self.whole < depth - COINCIDENT { self.whole.min(self.web) } else { self.web }
    }

    /// Where the axis of the cutter is when its rim meets an end that still stands in front of a pass: behind a head that
    /// goes on smoothly from its jamb, a bar is lowered up to the nearer of their old walls alone.
    fn ends(&self, sash: &Sash, pass: &Pass, band: &Outline, radius: f64) -> Vec<Outline> {
        let rough = matches!(pass.stage, Stage::Widen | Stage::Deepen);
        let stand = rough && self.ends < pass.to_depth - COINCIDENT;
        let old = || sash.measured.members.map(|member| member.old.width());
        let Some(reach) = self.reach.filter(|_| stand && sash.nearer_old_walls() != old()) else {
            return Vec::new();
        };
        // Where it cannot be told, all of the bar goes down in steps: slower, and no bite is too wide.
        let open = reach.offset(-radius, Join::Round).ok();
        let beyond = open.and_then(|open| band.difference(&open).ok());
        beyond.map_or_else(
            || vec![band.clone()],
            |regions| regions.into_iter().map(|region| region.outline).collect(),
        )
    }

    fn lower(&mut self, strip: &'a Strip, stage: Stage, depth: f64) {
        let width = strip.width;
        self.web = self.web.max(depth);
        if stage == Stage::LowerBars {
            self.reach = Some(&strip.reach);
        } else {
            self.ends = self.ends.max(depth);
        }
        if width >= self.bar.measured.width - COINCIDENT {
            self.whole = self.whole.max(depth);
        }
    }
}

/// In how many places a sash is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum CutIn {
    One,
    /// In several set-ups: a way may lead into a bar from any side.
    Several,
    /// The same, and along some bar one of them borders on what stands for another: its first way is a slot all along.
    Parted,
}

/// For each pass what stands across it when its turn comes.
pub(super) fn across(
    sash: &Sash,
    passes: &[Pass],
    workshop: &Workshop,
    cut_in: CutIn,
) -> Vec<Vec<Across>> {
    let bars = sash.cut_bars().iter();
    let mut bars: Vec<Lowered> = bars.map(Lowered::new).collect();
    let mut all = Vec::with_capacity(passes.len());
    for pass in passes {
        let strip = match &pass.cut {
            Cut::Strip(strip) => Some(strip),
            _ => None,
        };
        let depths = slots(pass.from_depth, pass.to_depth, workshop);
        let diameter = workshop.cutter.diameter;
        let mut found = Vec::new();
        for lowered in &bars {
            let own = strip.filter(|strip| strip.bar.index == lowered.bar.index);
            let width = lowered.standing(pass.to_depth);
            let turns = || cut_in != CutIn::One || strip::turns_at_ends(sash, pass, workshop);
            if width == 0.0
                && own.is_none()
                && let Ok(band) = lowered.bar.strip(lowered.bar.measured.width + diameter)
            {
                let ends = lowered.ends(sash, pass, &band, diameter / 2.0).into_iter();
                let depths = &depths;
                found.extend(ends.map(|end| Across {
                    place: Place::Bar(end),
                    depths: depths.clone(),
                    tall: None,
                    diameter,
                }));
            }
            let depths = if width > SHORT * diameter { depths.clone() } else { Vec::new() };
            let tall = tall(lowered, pass, workshop);
            if (!depths.is_empty() || tall.is_some())
                && (own.is_none() || turns())
                && let Ok(band) = lowered.bar.strip(width + diameter + 2.0 * MARGIN)
            {
                let path = lowered.bar.path;
                let place = match (own, cut_in) {
                    (Some(_), CutIn::Parted) => Place::Along(band, path),
                    (Some(_), _) => Place::Own(band, path),
                    (None, _) => Place::Bar(band),
                };
                found.push(Across { place, depths, tall, diameter });
            }
        }
        if let Some(strip) = strip {
            if !depths.is_empty() && frame_stands(sash, pass, workshop) {
                let sight = sash.outline.outline().clone();
                found.push(Across { place: Place::Beyond(sight), depths, tall: None, diameter });
            }
            let own = bars.iter_mut().filter(|lowered| lowered.bar.index == strip.bar.index);
            own.for_each(|lowered| lowered.lower(strip, pass.stage, pass.to_depth));
        }
        all.push(found);
    }
    all
}

/// The depths of even steps from one depth to another but the last, each no deeper than a slot may be.
fn slots(from: f64, to: f64, workshop: &Workshop) -> Vec<f64> {
    let mut depths = depths(from, to, slot_depth(workshop));
    depths.pop();
    depths
}

/// What stands of a bar above a pass round a pocket: its loops may lie further in than those of the passes before.
fn tall(lowered: &Lowered, pass: &Pass, workshop: &Workshop) -> Option<Tall> {
    let (to, cutting) = (pass.to_depth, &workshop.cutting);
    let top = lowered.top(to);
    let stands = matches!(pass.cut, Cut::Ring(_)) && lowered.standing(to) > 0.0;
    // What begins no higher than the layer is no taller than it.
    let taller = top < pass.from_depth - COINCIDENT;
    let depths = if taller { slots(top, to, workshop) } else { Vec::new() };
    stands.then(|| Tall {
        bar: lowered.bar.index,
        depths,
        least: to - cutting.deepest_step() - COINCIDENT,
        core: workshop.cutter.radius() - cutting.tolerance,
    })
}

/// Whether wood of the frame stands where bars are lowered up to the old walls, for longer than is none to speak of.
fn frame_stands(sash: &Sash, pass: &Pass, workshop: &Workshop) -> bool {
    let stands = |old: OldGlazing| match old {
        OldGlazing::Rebate { depth, .. } => pass.to_depth > depth + COINCIDENT,
        OldGlazing::Groove { .. } => true,
    };
    let long = |old: OldGlazing| old.width() > SHORT * workshop.cutter.diameter;
    let mut sides = sash.measured.members.iter().map(|(_, member)| member.old);
    pass.stage == Stage::LowerBars && sides.any(|old| stands(old) && long(old))
}

/// Each path of a pass that goes down to `depth` as stretches: wherever it leads across what stands, and ways before leave
/// more than a bite there, or those `taken` by passes before more than a step, there are depths to take first.
pub(super) fn stretches(
    paths: &[&Path],
    across: &[Across],
    (lane, depth): (f64, f64),
    taken: &mut Taken,
) -> Vec<Vec<Stretch>> {
    let mut all: Vec<Vec<Stretch>> = paths.iter().map(|path| vec![Stretch::whole(path)]).collect();
    for across in across {
        let mut before: Vec<Edge> = Vec::new();
        let own = across.tall.as_ref().and_then(|tall| taken.get(&tall.bar));
        let own = own.map_or(&[][..], Vec::as_slice);
        for stretches in &mut all {
            let split = std::mem::take(stretches).into_iter();
            *stretches =
                split.flat_map(|stretch| across.split(stretch, &mut before, (lane, own))).collect();
        }
        if let Some(tall) = &across.tall {
            let ways = before.into_iter().map(|edge| (edge, depth));
            taken.entry(tall.bar).or_default().extend(ways);
        }
    }
    all
}

impl Across {
    fn split(
        &self,
        stretch: Stretch,
        before: &mut Vec<Edge>,
        (lane, taken): (f64, &[(Edge, f64)]),
    ) -> Vec<Stretch> {
        if !stretch.depths.is_empty() {
            return vec![stretch];
        }
        let pieces = stretch.edges.iter().flat_map(|edge| self.place.parted(edge));
        let pieces: Vec<(Edge, bool)> = pieces.collect();
        let alike = |a: &(Edge, bool), b: &(Edge, bool)| {
            a.1 == b.1 && self.place.leg(&a.0) == self.place.leg(&b.0)
        };
        let parts = pieces.chunk_by(alike).map(|part| {
            let within = part.first().is_some_and(|(_, within)| *within);
            let edges: Vec<Edge> = part.iter().map(|(edge, _)| *edge).collect();
            let long = edges.iter().map(Edge::length).sum::<f64>() > SHORT * self.diameter;
            // A way that slants away from the one before is in a slot at one end.
            let bite = |edge: &Edge| {
                let wide = [0.0, 0.5, 1.0].map(|t| self.wood_beside(edge, t, before));
                wide.into_iter().fold(0.0, f64::max)
            };
            let slot = within && long && edges.iter().any(|edge| bite(edge) > lane + COINCIDENT);
            let tall = self.tall.as_ref().filter(|_| within);
            let met = |tall: &&Tall| {
                edges.iter().any(|edge| tall.meets(edge, (taken, self.diameter / 2.0)))
            };
            let tall = tall.filter(met);
            let slot = slot.then_some(&self.depths);
            let depths = tall.map(|tall| &tall.depths).or(slot).cloned().unwrap_or_default();
            if within {
                before.extend(&edges);
            }
            Stretch { edges, depths }
        });
        parts.collect()
    }

    /// How wide the wood across a place of a way is at the most, mm, beside ways `before`: one alone leaves as much as it
    /// is away, two on either side of it what is between them.
    fn wood_beside(&self, way: &Edge, t: f64, before: &[Edge]) -> f64 {
        let (at, along) = (way.at(t), way.direction(t));
        let offs = || before.iter().map(|edge| edge.at(edge.nearest(at)) - at);
        let abeam = |off: &Vec2| along.dot(*off).abs() <= ABEAM * off.hypot();
        let beside = |side: f64| {
            let there = offs().filter(abeam).filter(|off| along.cross(*off) * side > 0.0);
            there.map(Vec2::hypot).fold(self.diameter, f64::min)
        };
        let alone = offs().map(Vec2::hypot).fold(self.diameter, f64::min);
        alone.min(beside(1.0) + beside(-1.0) - self.diameter)
    }
}

impl Tall {
    /// Whether the cutter meets more than a step on a way: where none of those `taken` before was as wide.
    fn meets(&self, way: &Edge, (taken, radius): (&[(Edge, f64)], f64)) -> bool {
        let deep = || taken.iter().filter(|(_, depth)| *depth >= self.least);
        let gone = |at: Point| deep().any(|(edge, _)| edge.distance_to(at) <= radius);
        !self.depths.is_empty()
            && [0.0, 0.5, 1.0].into_iter().any(|t| {
                let (at, along) = (way.at(t), way.direction(t));
                let aside = self.core * Vec2::new(-along.y, along.x);
                !gone(at + aside) || !gone(at - aside)
            })
    }
}

impl Place {
    /// Which way an edge leads: along the bar that the pass itself cuts down, back, or neither.
    fn leg(&self, edge: &Edge) -> i8 {
        let Place::Along(_, path) = self else { return 0 };
        match along(path, edge) {
            cosine if cosine > ACROSS => 1,
            cosine if cosine < -ACROSS => -1,
            _ => 0,
        }
    }

    /// An edge in pieces, and whether each lies there.
    fn parted(&self, edge: &Edge) -> Vec<(Edge, bool)> {
        let (outline, within) = match self {
            Place::Own(_, path) if along(path, edge).abs() > ASKEW => {
                return vec![(*edge, false)];
            }
            Place::Own(band, _) | Place::Along(band, _) | Place::Bar(band) => (band, true),
            Place::Beyond(sight) => (sight, false),
        };
        let mut pieces = Vec::new();
        let mut from = 0.0;
        let mut push = |to: f64, there| {
            let piece = edge.part(from, to);
            if piece.length() > COINCIDENT {
                pieces.push((piece, there));
                from = to;
            }
        };
        for inside in outline.stretches_inside(edge) {
            push(edge.nearest(inside.start()), !within);
            push(edge.nearest(inside.end()), within);
        }
        push(1.0, !within);
        pieces
    }
}

/// Cosine of the angle between an edge and the bar beside its middle.
fn along(path: &Edge, edge: &Edge) -> f64 {
    path.direction(path.nearest(edge.at(0.5))).dot(edge.direction(0.5))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::passes::TimberLeft;
    use crate::sash::tests::{casement, placed};
    use kurbo::{Point, Rect};

    fn outline(x0: f64, x1: f64) -> Outline {
        Outline::rectangle(Rect::new(x0, -50.0, x1, 50.0)).unwrap()
    }

    fn along(path: &[(f64, f64)]) -> Path {
        let mut all = Path::from(Point::from(path[0]));
        path[1..].iter().for_each(|&at| all.line_to(Point::from(at)));
        all
    }

    fn split(path: &Path, across: &[Across], lane: f64) -> Vec<Vec<Stretch>> {
        stretches(&[path], across, (lane, 4.0), &mut Taken::new())
    }

    // By hand: 30° off the bar, as past its end under a steep head, a way is a slot; along it, as every lane is, none.
    #[test]
    fn all_but_lanes_of_the_bar_s_own_may_be_in_a_slot() {
        let bar = Edge::line(Point::ZERO, Point::new(100.0, 0.0));
        let place = Place::Own(outline(-10.0, 110.0), bar);
        let across = [Across { place, depths: vec![2.0], tall: None, diameter: 12.0 }];
        let slots = |to: (f64, f64)| {
            let found = split(&along(&[(20.0, 0.0), to]), &across, 6.0).pop().unwrap();
            found.iter().filter(|stretch| !stretch.depths.is_empty()).count()
        };
        assert_eq!([slots((80.0, 34.6)), slots((80.0, 0.0))], [1, 0]);
    }

    // By hand: two lanes 5 mm apart lead across a bar between x = 40 and 60, the second back. The first is cut to
    // 2 mm first there; the second lies within a bite of it.
    #[test]
    fn where_a_way_leads_across_a_bar_it_goes_down_in_steps() {
        let across = [Across {
            place: Place::Bar(outline(40.0, 60.0)),
            depths: vec![2.0],
            tall: None,
            diameter: 12.0,
        }];
        let path = along(&[(0.0, 0.0), (100.0, 0.0), (100.0, 5.0), (0.0, 5.0)]);
        let found = split(&path, &across, 6.0).pop().unwrap();
        let slots: Vec<&Stretch> = found.iter().filter(|s| !s.depths.is_empty()).collect();
        let [slot] = slots[..] else { panic!("{found:?}") };
        assert_eq!(slot.edges, [Edge::line(Point::new(40.0, 0.0), Point::new(60.0, 0.0))]);
        let all: f64 = found.iter().flat_map(|s| &s.edges).map(Edge::length).sum();
        assert!((all - 205.0).abs() < 1e-9);
        // Further apart than a bite, each is a slot.
        let found = split(&path, &across, 4.0).pop().unwrap();
        assert_eq!(found.iter().filter(|s| !s.depths.is_empty()).count(), 2);
        // But not what stands between two: of 18 mm between their middles 12 are gone.
        let path = along(&[
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 18.0),
            (0.0, 18.0),
            (0.0, 9.0),
            (100.0, 9.0),
        ]);
        let found = split(&path, &across, 6.0).pop().unwrap();
        assert_eq!(found.iter().filter(|s| !s.depths.is_empty()).count(), 2);
        let found = split(&path, &across, 5.9).pop().unwrap();
        assert_eq!(found.iter().filter(|s| !s.depths.is_empty()).count(), 3);
        // So is one that slants away to twice a bite.
        let path = along(&[(0.0, 0.0), (100.0, 0.0), (60.0, 8.0), (40.0, 2.0)]);
        let found = split(&path, &across, 6.0).pop().unwrap();
        assert_eq!(found.iter().filter(|s| !s.depths.is_empty()).count(), 2);
    }

    #[test]
    fn along_its_own_bar_and_within_the_sight_a_lane_is_no_slot() {
        let path = along(&[(0.0, 0.0), (100.0, 0.0), (100.0, 30.0)]);
        let slots = |place| {
            let across = [Across { place, depths: vec![2.0], tall: None, diameter: 12.0 }];
            let found = split(&path, &across, 6.0).pop().unwrap().into_iter();
            found.filter(|s| !s.depths.is_empty()).flat_map(|s| s.edges).collect::<Vec<_>>()
        };
        let turn = Edge::line(Point::new(100.0, 0.0), Point::new(100.0, 30.0));
        let bar = Edge::line(Point::ZERO, Point::new(100.0, 0.0));
        assert_eq!(slots(Place::Own(outline(-10.0, 110.0), bar)), [turn]);
        let end = Edge::line(Point::new(90.0, 0.0), Point::new(100.0, 0.0));
        assert_eq!(slots(Place::Beyond(outline(-10.0, 90.0))), [end, turn]);
    }

    // By hand: lanes along the bar at 0, 20, 5, 15 and 10 mm for bites of at most 6. The first two are slots and so are the
    // turns that lead to the second and to the third, which is 5 mm off the first, as is each of the others off one before.
    #[test]
    fn along_its_own_bar_a_first_way_is_a_slot_and_one_beside_it_is_not() {
        let lanes = [0.0, 20.0, 5.0, 15.0, 10.0].into_iter().enumerate();
        let ends = |(index, y): (usize, f64)| {
            if index % 2 == 0 { [(0.0, y), (100.0, y)] } else { [(100.0, y), (0.0, y)] }
        };
        let path = along(&lanes.flat_map(ends).collect::<Vec<_>>());
        let bar = Edge::line(Point::ZERO, Point::new(100.0, 0.0));
        let place = Place::Along(outline(-20.0, 120.0), bar);
        let across = [Across { place, depths: vec![2.0], tall: None, diameter: 12.0 }];
        let found = split(&path, &across, 6.0).pop().unwrap().into_iter();
        let slots = found.filter(|stretch| !stretch.depths.is_empty());
        let lengths: Vec<f64> = slots.flat_map(|s| s.edges).map(|edge| edge.length()).collect();
        assert_eq!(lengths, [100.0, 20.0, 100.0, 15.0]);
    }

    // By hand: a cutter of 6 mm radius has been along y = 0 at 2 mm, over a bar that stands to 1 mm below the face. At 4 mm
    // with steps of 2.5 that is enough for a way along y = 0, but not for one a millimetre aside, which meets 3 mm; and a way
    // at 1.2 mm was none of use.
    #[test]
    fn a_loop_that_lies_further_in_than_those_before_goes_down_in_steps_over_a_bar() {
        let tall = Tall { bar: 7, depths: vec![2.5], least: 1.5, core: 5.9 };
        let place = || Place::Bar(outline(40.0, 60.0));
        let across = [Across { place: place(), depths: vec![], tall: Some(tall), diameter: 12.0 }];
        let way = |y: f64| along(&[(0.0, y), (100.0, y)]);
        let steps = |before: &[(f64, f64)], y: f64| {
            let mut taken = Taken::new();
            for &(y, depth) in before {
                stretches(&[&way(y)], &across, (6.0, depth), &mut taken);
            }
            let found = stretches(&[&way(y)], &across, (6.0, 4.0), &mut taken);
            found.into_iter().flatten().filter(|s| s.depths == [2.5]).count()
        };
        assert_eq!(steps(&[(0.0, 2.0)], 0.0), 0);
        assert_eq!(steps(&[(0.0, 2.0)], 1.0), 1);
        assert_eq!(steps(&[(0.0, 2.0), (5.0, 2.0)], 1.0), 0);
        assert_eq!(steps(&[(0.0, 1.2)], 0.0), 1);
    }

    // By hand: half of 12 mm at a full step of 4 is a slot of 2 mm, so 3 mm are two.
    #[test]
    fn a_bar_stands_until_its_own_strip_is_cut() {
        let mut survey = casement();
        survey.bars.truncate(1);
        let sash = Sash::new(&survey).unwrap();
        let bar = sash.cut_bars()[0].clone();
        let own = bar.measured.rebate_depth;
        let other = placed(9, Edge::line(Point::new(900.0, 300.0), Point::new(-90.0, 300.0)), 22.0);
        let pass = |bar: &PlacedBar, from_depth: f64| {
            let strip = Strip { bar: bar.clone(), width: 22.0, reach: outline(0.0, 9.0) };
            Pass {
                stage: Stage::Deepen,
                place: bar.name(),
                cut: Cut::Strip(strip),
                from_depth,
                to_depth: from_depth + 3.0,
                left: TimberLeft { under: 20.0, beside: None },
            }
        };
        let passes = [pass(&other, 0.0), pass(&other, own), pass(&bar, own), pass(&other, own)];
        let found = across(&sash, &passes, &Workshop::default(), CutIn::One);
        let depths = |all: &Vec<Across>| all.iter().flat_map(|a| a.depths.clone()).collect();
        let depths: Vec<Vec<f64>> = found.iter().map(depths).collect();
        assert_eq!(depths, [vec![], vec![own + 1.5], vec![], vec![]]);
    }
}
