//! How long the programs take, by a clock of the tests' own: lengths over feeds, read from the text, over a bound
//! (`bound.rs` says what that is).
//!
//! `FILLISTER_CASES=200` runs that many random sashes; `--nocapture` shows the table, with `FILLISTER_TELL=1` each program of
//! it; `FILLISTER_SURVEYS=FOLDER` writes the random ones there, their ratio in the name.

mod bound;
mod program;
mod wood;

use crate::support::EXAMPLE;
use crate::support::machinable;
use crate::support::runs::{cases, for_all};
use crate::support::writer::{Lengths, write};
use bound::{Bound, bound};
use fillister::finding::Verdict;
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

/// Longest that any of the named sashes and of the ordinary ones takes, over the bound.
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
    bound: Bound,
    /// Share of the time at feed in which nothing is cut.
    idle: f64,
    /// Largest section met, over three diameters of way, as a share of a lane at a full step.
    largest: f64,
}

impl Clock {
    /// Over the bound with the ways back.
    fn ratio(&self) -> f64 {
        let Bound { path, fixed, back, .. } = self.bound;
        self.referee / (path + fixed + back)
    }

    /// Over the bound without them.
    fn without_back(&self) -> f64 {
        self.referee / (self.bound.path + self.bound.fixed)
    }

    /// Over that with levels across the platforms, and over that with lanes that need not be whole.
    fn across_and_by_area(&self) -> [f64; 2] {
        let Bound { across, by_area, fixed, .. } = self.bound;
        [across, by_area].map(|path| self.referee / (path + fixed))
    }
}

fn clock(work: &Work, workshop: &Workshop) -> Result<Clock, String> {
    let mut wood = Wood::new(work);
    let bound = bound(&wood, work, workshop);
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
    Ok(Clock { claimed, referee, rapid, bound, idle, largest })
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
        "sash                     says   takes    path  fixed   back  ratio less back across by area rapid  idle  largest bite / full one"
    );
    let mut not_cut = Vec::new();
    for (sash, workshop) in named() {
        let work = Work::new(&sash, &workshop).unwrap();
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            not_cut.push(sash.id);
            continue;
        }
        let clock = clock(&work, &workshop).unwrap_or_else(|wrong| panic!("{}: {wrong}", sash.id));
        let Clock { claimed, referee, rapid, bound, idle, largest } = clock;
        let Bound { path, fixed, back, .. } = bound;
        let [other, by_area] = clock.across_and_by_area();
        eprintln!(
            "{:22} {claimed:6.0} {referee:7.1} {path:7.1} {fixed:6.1} {back:6.1} {:6.2} {:9.2} {:6.2} {:7.2} {:3.0} % {:3.0} % {largest:6.2}",
            sash.id,
            clock.ratio(),
            clock.without_back(),
            other,
            by_area,
            100.0 * rapid / referee,
            100.0 * idle
        );
        assert!(clock.ratio() <= MOST, "{}: {referee} min, at the least {bound:?}", sash.id);
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
    // With other feeds another way from path to path may be the quicker one.
    assert!((slow - quick - told.minutes).abs() < 0.01 * slow, "{slow} {quick} {told:?}");
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

/// Of so many random sashes that are cut by machine, each sorted: ratio to the bound, to that without ways back, to that
/// with levels across the platforms, and largest bite.
fn told(usual: u32, sashes: &impl Strategy<Value = House>) -> [Vec<f64>; 4] {
    let all: RefCell<Vec<[f64; 4]>> = RefCell::default();
    for_all(usual, sashes, |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            return Ok(());
        }
        let clock = clock(&work, &house.workshop).map_err(TestCaseError::fail)?;
        if let Ok(dir) = std::env::var("FILLISTER_SURVEYS") {
            let text = write(&house, Lengths::Millimetres);
            let index = all.borrow().len();
            std::fs::write(format!("{dir}/{:.2}-{index}.toml", clock.ratio()), text).unwrap();
        }
        let [across, _] = clock.across_and_by_area();
        all.borrow_mut().push([clock.ratio(), clock.without_back(), across, clock.largest]);
        Ok(())
    });
    let all = all.into_inner();
    [0, 1, 2, 3].map(|index| sorted(all.iter().map(|told| told[index]).collect()))
}

#[test]
fn random_sashes_take_the_time_that_they_say() {
    let of = |all: &[f64]| (all[all.len() / 2], all[all.len() - 1]);
    let said = |kind: &str, [ratios, without, across, largest]: &[Vec<f64>; 4]| {
        let over = ratios.iter().filter(|ratio| **ratio > MOST).count();
        eprintln!(
            "{} {kind}: ratio to the bound {:.2?}, {over} over {MOST}; without ways back {:.2?}, with levels across {:.2?}; \
             largest bite over a full one {:.2?} (median, worst)",
            ratios.len(),
            of(ratios),
            of(without),
            of(across),
            of(largest)
        );
        assert!(ratios.len() * 2 >= cases(8) as usize, "{} told", ratios.len());
    };
    // From daylights of 50 mm up, with rapid moves slower than the feed and the like.
    said("sashes of any kind", &told(16, &machinable::house()));
    let ordinary = told(8, &ordinary());
    said("ordinary sashes", &ordinary);
    // No order of cuts takes less than the bound.
    assert!(ordinary[0][0] >= 1.0, "{:?}", ordinary[0]);
    assert!(of(&ordinary[0]).0 <= MOST - 0.1, "{:?}", ordinary[0]);
    assert!(of(&ordinary[0]).1 <= MOST, "{:?}", ordinary[0]);
}

fn sorted(mut all: Vec<f64>) -> Vec<f64> {
    all.sort_by(f64::total_cmp);
    all
}
