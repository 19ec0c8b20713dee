//! How long the programs take, by a clock of the tests' own: lengths over feeds, read from the text.
//!
//! The *bound* is the shortest way of the cutter at the survey's own limits. The wood is taken in levels: two of a
//! `widen_step` in the old painted face, then as few as a `step_depth` allows. In each level the cutter goes along each
//! side of the wall in as many lanes of `side_step` as the wood there is wide, whole ones, and clears what else there
//! is, the bars, likewise: their plan area over the lane, where they cross once, and as much more as whole lanes take. Score and finishing cut go along the wall once. To that
//! come for each level and unit a way down at the plunging feed and up again, and the air run along the walls. *By
//! area* the lanes need not be whole: no cutter could do that, but it wants no knowledge of sides.
//!
//! `FILLISTER_CASES=200` runs that many random sashes; `--nocapture` shows the table, with `FILLISTER_TELL=1` each program of
//! it; `FILLISTER_SURVEYS=FOLDER` writes the random ones there, their ratio in the name.

mod program;
mod wood;

use crate::support::EXAMPLE;
use crate::support::machinable;
use crate::support::runs::{cases, for_all};
use crate::support::writer::{Lengths, write};
use fillister::finding::Verdict;
use fillister::geometry::{Edge, Join};
use fillister::job::{Work, prove_work};
use fillister::machine::faster;
use fillister::passes::Stage;
use fillister::survey::{
    Bar, BarsAs, House, Kind, Member, Moulding, OldGlazing, Runs, Sash, Workshop, read_bytes,
};
use kurbo::Size;
use program::Run;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::TestCaseError;
use std::cell::RefCell;
use wood::Wood;

/// Longest that any of the named sashes takes, over the bound; in several set-ups without the rapid moves: against the
/// rotation only, each lap that ends at a window's edge wants a way back, which the bound has not.
const MOST: f64 = 1.25;

/// Largest bite of a named sash in lanes at a full step; a bar crossed at once would be two. A corner alone adds lane
/// times cutter less lane to it, for lanes of half a cutter a sixth over three cutters.
const LARGEST: f64 = 1.4;

/// The clock of one sash, minutes.
struct Clock {
    claimed: f64,
    referee: f64,
    /// Rapid moves of that.
    rapid: f64,
    bound: f64,
    by_area: f64,
    /// Share of the time at feed in which nothing is cut.
    idle: f64,
    /// Largest section met, over three diameters of way, as a share of a lane at a full step.
    largest: f64,
}

impl Clock {
    fn ratio(&self) -> f64 {
        self.referee / self.bound
    }
}

fn clock(work: &Work, workshop: &Workshop) -> Result<Clock, String> {
    let mut wood = Wood::new(work);
    let [bound, by_area] = [true, false].map(|whole| bound(&wood, work, workshop, whole));
    let (mut claimed, mut referee, mut idle, mut fed, mut largest) = (0.0, 0.0, 0.0, 0.0, 0.0);
    let mut rapid = 0.0;
    let proofs = prove_work(work, workshop).unwrap().programs;
    for (program, text) in work.programs.written().unwrap() {
        if program.parts.iter().any(|part| part.stage == Some(Stage::CleanCorners)) {
            continue;
        }
        let run = Run::read(&text);
        let minutes = run.minutes(workshop.machine.rapid);
        let proof = proofs.iter().find(|proof| proof.name == program.name);
        let proven = proof.map_or(f64::NAN, |proof| proof.minutes);
        // Said in whole minutes.
        let near = |said: f64, most: f64| (said - minutes).abs() <= most;
        if !near(run.claimed, 0.5 + 1e-3) || !near(proven, 0.01) {
            let said = run.claimed;
            return Err(format!("{}: {said} min said, {proven} proven, {minutes}", program.name));
        }
        claimed += run.claimed;
        referee += minutes;
        let moves = run.legs.iter().filter(|leg| leg.rapid);
        rapid += moves.map(|leg| leg.length() / workshop.machine.rapid).sum::<f64>();
        let met = wood.cut(&run.legs, &program.place, workshop.cutter.radius());
        if std::env::var_os("FILLISTER_TELL").is_some() {
            let (x, y, w) = (met.at.x, met.at.y, met.largest);
            eprintln!(
                "  {:24} {minutes:6.1} min, {w:5.1} mm² at {x:.0} {y:.0}, {:3.0} % idle",
                program.name,
                100.0 * met.idle / met.fed
            );
        }
        if program.parts.iter().any(|part| part.stage.is_some()) {
            (idle, fed) = (idle + met.idle, fed + met.fed);
        }
        largest = f64::max(largest, met.largest);
    }
    let (cutter, cutting) = (&workshop.cutter, &workshop.cutting);
    let step = cutting.step_depth.max(cutting.widen_step).max(cutting.score_depth);
    let bite = cutting.side_step * cutter.diameter * step;
    let (idle, largest) = (idle / fed, largest / bite);
    Ok(Clock { claimed, referee, rapid, bound, by_area, idle, largest })
}

/// Minutes of the shortest way, as the head of this file has it.
fn bound(wood: &Wood, work: &Work, workshop: &Workshop, whole: bool) -> f64 {
    let (machine, cutting) = (&workshop.machine, &workshop.cutting);
    let chips = f64::from(workshop.cutter.flutes) * cutting.chip_load;
    let feed = machine.max_feed.min(machine.spindle * chips);
    let plunge = machine.max_plunge.min(feed);
    let lane = cutting.side_step * workshop.cutter.diameter;
    let laps = work.fit.units.iter().map(|unit| {
        let way = unit.outlines.wall.outline().offset(-workshop.cutter.radius(), Join::Round);
        way.map_or(0.0, |way| way.perimeter())
    });
    let lap: f64 = laps.sum();
    let depth = work.fit.depth;
    let shallow = cutting.widen_step;
    let step = cutting.step_depth.max(shallow);
    let mut levels = vec![0.0, shallow.min(depth), (2.0 * shallow).min(depth)];
    let rest = depth - levels[2];
    let count = (rest / step - 1e-9).ceil().max(0.0);
    let mut index = 1.0;
    while index <= count {
        levels.push(levels[2] + rest * index / count);
        index += 1.0;
    }
    let mut way = 0.0;
    let mut down = 0.0;
    let units = work.fit.units.len() as f64;
    for pair in levels.windows(2) {
        let area = wood.area(-pair[0], -pair[1]);
        if area > 0.0 {
            let (mut along, mut beside) = (0.0, 0.0);
            for edge in work.fit.units.iter().flat_map(|unit| unit.outlines.wall.outline().edges())
            {
                let width = wood.width_along(edge, pair[0], pair[1]) - cutting.finish_allowance;
                let length = (edge.length() - workshop.cutter.diameter).max(0.0);
                along += (width / lane - 0.01).ceil().max(0.0) * length;
                beside += width.max(0.0) * length;
            }
            let by_sides =
                along + whole_lanes(work, pair[1], lane) * (area - beside).max(0.0) / lane;
            way += (area / lane).max(lap).max(if whole { by_sides } else { 0.0 });
            down += units * pair[1];
        }
    }
    for (wanted, deep) in
        [(cutting.score_depth, cutting.score_depth), (cutting.finish_allowance, depth)]
    {
        if wanted > 0.0 {
            way += lap;
            down += units * deep;
        }
    }
    way / feed + down / plunge + (down + lap) / machine.rapid
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

fn example() -> House {
    read_bytes(EXAMPLE.as_bytes(), "example").unwrap()
}

/// A plain sash of the example, with another daylight and no bars.
fn plain(sight: Size) -> Sash {
    let mut sash = example().sashes.swap_remove(0);
    sash.sight = sight;
    sash.id = format!("plain {} x {}", sight.width, sight.height);
    sash.measures = None;
    sash.bars.clear();
    sash.bars_as = BarsAs::OneUnit;
    sash.screws.clear();
    sash.metal.clear();
    sash
}

fn named() -> Vec<(Sash, Workshop)> {
    let house = example();
    let workshop = house.workshop.clone();
    let mut all: Vec<Sash> = house.sashes;
    all.push(plain(Size::new(820.0, 930.0)));
    let mut bars = plain(Size::new(700.0, 800.0));
    let like = all.iter().find(|sash| sash.bars.len() == 3).unwrap().bars.clone();
    bars.bars = like[..2].to_vec();
    bars.id = "two bars".into();
    all.push(bars);
    let mut small = workshop.clone();
    small.machine.bed = [1200.0, 1000.0];
    let mut large = plain(Size::new(1900.0, 1500.0));
    large.id = "four set-ups".into();
    // Nothing of its own hangs it, so that wind does not bend it.
    (large.kind, large.hinge_side) = (Kind::Fixed, None);
    let mut all: Vec<_> = all.into_iter().map(|sash| (sash, workshop.clone())).collect();
    all.push((large, small));
    all
}

/// Each kind that there is: claimed, told and bound, and how much of the way cuts nothing.
#[test]
fn programs_take_the_time_that_they_say() {
    eprintln!(
        "sash                     says   takes   bound  ratio by area rapid  idle  largest bite / full one"
    );
    let mut not_cut = Vec::new();
    for (sash, workshop) in named() {
        let work = Work::new(&sash, &workshop).unwrap();
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            not_cut.push(sash.id);
            continue;
        }
        let clock = clock(&work, &workshop).unwrap_or_else(|wrong| panic!("{}: {wrong}", sash.id));
        let Clock { claimed, referee, rapid, bound, by_area, idle, largest } = clock;
        eprintln!(
            "{:22} {claimed:6.0} {referee:7.1} {bound:7.1} {:6.2} {:6.2} {:3.0} % {:3.0} % {largest:6.2}",
            sash.id,
            referee / bound,
            referee / by_area,
            100.0 * rapid / referee,
            100.0 * idle
        );
        let over = if work.programs.set_ups.is_empty() { 0.0 } else { rapid };
        assert!(referee - over <= MOST * bound, "{}: {referee} min, {bound} at the least", sash.id);
        assert!(largest <= LARGEST, "{}: a bite of {largest} full ones", sash.id);
        assert!(idle <= 0.2, "{}: {idle} of the time at feed cuts nothing", sash.id);
    }
    assert_eq!(not_cut, ["scullery-1"]);
}

// What is told to be quicker is so by as much, and proven.
#[test]
fn a_faster_feed_saves_what_it_says() {
    let house = example();
    let sash = &house.sashes[0];
    let minutes = |workshop: &Workshop| {
        let work = Work::new(sash, workshop).unwrap();
        assert!(prove_work(&work, workshop).unwrap().is_proven());
        (clock(&work, workshop).unwrap().referee, faster(&work.programs.programs, workshop))
    };
    let (slow, told) = minutes(&house.workshop);
    let told = told.unwrap();
    assert_eq!((told.feed, told.faster.round()), (1500.0, 3000.0));
    assert!(told.charts[0] >= told.chip_load && told.chip_load > 0.1, "{told:?}");
    let mut quicker = house.workshop.clone();
    quicker.machine.max_feed = told.faster;
    quicker.cutting.chip_load = told.chip_load;
    let (quick, more) = minutes(&quicker);
    assert!((slow - quick - told.minutes).abs() < 0.1, "{slow} {quick} {told:?}");
    // Then chips are as thick as the charts begin, and nothing more is told.
    assert_eq!(more, None);
}

/// Sashes as they stand in houses, on the machines that joiners have.
fn ordinary() -> impl Strategy<Value = House> {
    let sizes = (300.0..1300.0_f64, 350.0..1500.0_f64, 50.0..65.0_f64);
    let rebate = (7.0..12.0_f64, 14.0..20.0_f64, any::<bool>());
    let bars = (0..3_usize, 0..3_usize, 22.0..45.0_f64);
    let cutter = (select(vec![10.0, 12.0, 16.0]), 0.4..0.6_f64, 0.5..1.0_f64);
    let speeds = (1200.0..4000.0_f64, 1.0..2.5_f64);
    (sizes, rebate, bars, cutter, speeds).prop_map(|(sizes, rebate, bars, cutter, speeds)| {
        let mm = |length: f64| length.round();
        let (width, depth, one_unit) = (mm(rebate.0), mm(rebate.1), rebate.2);
        let mut house = example();
        let bar = house.sashes.iter().find_map(|sash| sash.bars.first()).unwrap().clone();
        let mut sash = plain(Size::new(mm(sizes.0), mm(sizes.1)));
        sash.members = sash.members.map(|member| Member {
            thickness: mm(sizes.2),
            old: OldGlazing::Rebate { width, depth },
            ..member.clone()
        });
        if !one_unit {
            (sash.unit.cover, sash.unit.spacer_height) = (6.0, 6.0);
            sash.bars_as = BarsAs::UnitPerLight;
        }
        for (runs, count, length) in
            [(Runs::Upright, bars.0, sash.sight.width), (Runs::Cross, bars.1, sash.sight.height)]
        {
            for index in 1..=count.min((length / 250.0) as usize) {
                let centre = mm(length * index as f64 / (count + 1) as f64);
                let own = mm(bars.2.max(2.0 * width + 4.0));
                sash.bars.push(Bar {
                    runs,
                    centre,
                    width: own,
                    thickness: mm(sizes.2),
                    rebate_width: width,
                    rebate_depth: depth,
                    moulding: Moulding::Square,
                    ..bar.clone()
                });
            }
        }
        sash.id = "ordinary".into();
        house.sashes = vec![sash];
        let (cutting, machine) = (&mut house.workshop.cutting, &mut house.workshop.machine);
        (house.workshop.cutter.diameter, cutting.side_step) = (cutter.0, cutter.1);
        cutting.step_depth = cutter.2 * cutter.0 / 2.0;
        (machine.max_feed, machine.rapid) = (mm(speeds.0), mm(speeds.0 * speeds.1));
        house
    })
}

/// Ratio and largest bite of so many random sashes that are cut by machine.
fn told(usual: u32, sashes: &impl Strategy<Value = House>) -> [Vec<f64>; 2] {
    let (ratios, largest) = (RefCell::new(Vec::new()), RefCell::new(Vec::new()));
    for_all(usual, sashes, |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            return Ok(());
        }
        let clock = clock(&work, &house.workshop).map_err(TestCaseError::fail)?;
        if let Ok(dir) = std::env::var("FILLISTER_SURVEYS") {
            let text = write(&house, Lengths::Millimetres);
            let index = ratios.borrow().len();
            std::fs::write(format!("{dir}/{:.2}-{index}.toml", clock.ratio()), text).unwrap();
        }
        ratios.borrow_mut().push(clock.ratio());
        largest.borrow_mut().push(clock.largest);
        Ok(())
    });
    [ratios, largest].map(|all| sorted(all.into_inner()))
}

#[test]
fn random_sashes_take_the_time_that_they_say() {
    let of = |all: &[f64]| (all[all.len() / 2], all[all.len() - 1]);
    let said = |kind: &str, [ratios, largest]: &[Vec<f64>; 2]| {
        eprintln!(
            "{} {kind}: ratio to the bound {:.2?}, largest bite over a full one {:.2?} (median, worst)",
            ratios.len(),
            of(ratios),
            of(largest)
        );
        assert!(ratios.len() * 2 >= cases(8) as usize, "{} told", ratios.len());
    };
    // From daylights of 50 mm up, with rapid moves slower than the feed and the like.
    said("sashes of any kind", &told(16, &machinable::house()));
    let ordinary = told(8, &ordinary());
    said("ordinary sashes", &ordinary);
    assert!(of(&ordinary[0]).0 <= MOST + 0.05, "{:?}", ordinary[0]);
}

fn sorted(mut all: Vec<f64>) -> Vec<f64> {
    all.sort_by(f64::total_cmp);
    all
}
