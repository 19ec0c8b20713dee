//! How long the programs take, by a clock of the tests' own: lengths over feeds, read from the text.
//!
//! The *bound* is the shortest way of the cutter at the survey's own limits. The wood is taken in levels: two of a
//! `widen_step` in the old painted face, then as few as a `step_depth` allows. In each level the cutter goes along each
//! side of the wall in as many lanes of `side_step` as the wood there is wide, whole ones, and clears what else there
//! is, the bars, in no less than their plan area over the lane. Score and finishing cut go along the wall once. To that
//! come for each level and unit a way down at the plunging feed and up again, and the air run along the walls. *By
//! area* the lanes need not be whole: no cutter could do that, but it wants no knowledge of sides.
//!
//! `FILLISTER_CASES=200` runs that many random sashes; `--nocapture` shows the table.

mod program;
mod wood;

use crate::support::EXAMPLE;
use crate::support::machinable;
use crate::support::runs::{cases, for_all};
use fillister::finding::Verdict;
use fillister::geometry::Join;
use fillister::job::{Work, prove_work};
use fillister::machine::faster;
use fillister::passes::Stage;
use fillister::survey::{BarsAs, House, Sash, Workshop, read_bytes};
use kurbo::Size;
use program::Run;
use std::cell::RefCell;
use wood::Wood;

/// Longest that any of the named sashes takes, over the bound.
const MOST: f64 = 1.32;

/// Largest bite of a named sash in lanes at a full step; a bar crossed at once would be two. A corner alone adds lane
/// times cutter less lane to it, for lanes of half a cutter a sixth over three cutters.
const LARGEST: f64 = 1.4;

/// The clock of one sash, minutes.
struct Clock {
    claimed: f64,
    referee: f64,
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
    for (program, text) in work.programs.written().unwrap() {
        if program.parts.iter().any(|part| part.stage == Some(Stage::CleanCorners)) {
            continue;
        }
        let run = Run::read(&text);
        let minutes = run.minutes(workshop.machine.rapid);
        // Said in whole minutes.
        if (run.claimed - minutes).abs() > 0.5 + 1e-3 {
            return Err(format!("{}: {} min said, {minutes} min", program.name, run.claimed));
        }
        claimed += run.claimed;
        referee += minutes;
        let met = wood.cut(&run.legs, &program.place, workshop.cutter.radius());
        if std::env::var("FILLISTER_TELL").is_ok() {
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
    Ok(Clock { claimed, referee, bound, by_area, idle: idle / fed, largest: largest / bite })
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
            let by_sides = along + (area - beside).max(0.0) / lane;
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
    let mut all: Vec<_> = all.into_iter().map(|sash| (sash, workshop.clone())).collect();
    all.push((large, small));
    all
}

/// Each kind that there is: claimed, told and bound, and how much of the way cuts nothing.
#[test]
fn programs_take_the_time_that_they_say() {
    eprintln!(
        "sash                     says   takes   bound  ratio by area  idle  largest bite / full one"
    );
    for (sash, workshop) in named() {
        let work = Work::new(&sash, &workshop).unwrap();
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            continue;
        }
        let clock = clock(&work, &workshop).unwrap_or_else(|wrong| panic!("{}: {wrong}", sash.id));
        let Clock { claimed, referee, bound, by_area, idle, largest } = clock;
        eprintln!(
            "{:22} {claimed:6.0} {referee:7.1} {bound:7.1} {:6.2} {:6.2} {:4.0} % {largest:6.2}",
            sash.id,
            referee / bound,
            referee / by_area,
            100.0 * idle
        );
        assert!(referee <= MOST * bound, "{}: {referee} min, {bound} at the least", sash.id);
        assert!(largest <= LARGEST, "{}: a bite of {largest} full ones", sash.id);
        assert!(idle <= 0.2, "{}: {idle} of the time at feed cuts nothing", sash.id);
    }
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

#[test]
fn random_sashes_take_the_time_that_they_say() {
    let (ratios, largest) = (RefCell::new(Vec::new()), RefCell::new(Vec::new()));
    for_all(16, &machinable::house(), |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            return Ok(());
        }
        let clock =
            clock(&work, &house.workshop).map_err(proptest::test_runner::TestCaseError::fail)?;
        ratios.borrow_mut().push(clock.ratio());
        largest.borrow_mut().push(clock.largest);
        Ok(())
    });
    let ratios = sorted(ratios.into_inner());
    let largest = sorted(largest.into_inner());
    assert!(ratios.len() * 2 >= cases(16) as usize, "{} told", ratios.len());
    let of = |all: &[f64]| (all[all.len() / 2], all[all.len() - 1]);
    eprintln!(
        "{} random sashes: ratio to the bound {:.2?}, largest bite over a full one {:.2?} (median, worst)",
        ratios.len(),
        of(&ratios),
        of(&largest)
    );
}

fn sorted(mut all: Vec<f64>) -> Vec<f64> {
    all.sort_by(f64::total_cmp);
    all
}
