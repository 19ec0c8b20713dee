//! Sashes that are no rectangles: what nothing stops is proven, and the wood adds up.
//!
//! Cases come from a fixed seed; `FILLISTER_CASES=2000` runs that many, `FILLISTER_SEED=1` others.

use crate::support::chance::Deck;
use crate::support::houses::{DECK, deck};
use crate::support::refusals::refusals;
use crate::support::runs::{cases, for_all, told};
use crate::support::{machinable, shapes};
use fillister::finding::Verdict;
use fillister::geometry::{Arc, Edge, Sided, THINNEST};
use fillister::job::{Work, prove_work};
use fillister::survey::{Bar, BarsAs, Course, House, Member, Moulding, Runs, Sash};
use kurbo::Point;
use proptest::prelude::*;
use std::cell::Cell;

/// A machinable sash with another daylight, and bars that still stand in it.
pub(crate) fn house() -> impl Strategy<Value = House> {
    (machinable::house(), deck(DECK)).prop_map(|(mut house, deck)| {
        shapes::reshape(&mut house.sashes[0], &mut Deck::new(deck));
        house
    })
}

/// A larger one, with one or two bars along arcs in place of its own.
fn curved_house() -> impl Strategy<Value = House> {
    (machinable::house(), deck(DECK)).prop_map(|(mut house, deck)| {
        let mut deck = Deck::new(deck);
        let sash = &mut house.sashes[0];
        let larger = 600.0 / sash.sight.width.min(sash.sight.height);
        sash.sight = larger.max(1.0) * sash.sight;
        sash.bars.clear();
        sash.metal.clear();
        sash.screws.clear();
        sash.clamps.clear();
        shapes::reshape(sash, &mut deck);
        let outline = sash.outline.clone().unwrap();
        let kinds = [[true].as_slice(), &[false], &[true, false]][deck.index(3)];
        for &from_jambs in kinds {
            let like = plain_bar(sash);
            sash.bars.extend(curved(&mut deck, &outline, like, from_jambs));
        }
        house
    })
}

/// A bar 40 mm wide with old rebates as deep as those of the top.
fn plain_bar(sash: &Sash) -> Bar {
    let top = sash.members.top.clone();
    Bar {
        runs: Runs::Upright,
        course: Course::Through,
        centre: 0.0,
        lean: 0.0,
        width: 40.0,
        thickness: top.thickness,
        rebate_width: 10.0,
        rebate_depth: top.old.depth().min(top.thickness / 3.0),
        moulding: Moulding::Square,
        tenon: None,
    }
}

/// A bar like another, along an arc from jamb to jamb or from sill to sill.
fn curved(deck: &mut Deck, outline: &Sided, like: Bar, from_jambs: bool) -> Option<Bar> {
    let bounds = outline.bounds();
    let (w, h) = (bounds.width(), bounds.height());
    let (from, to, rise) = if from_jambs {
        // Low enough for every head to leave it upright jambs, but round sashes, where it runs on.
        let y = deck.between(0.1, 0.2) * h;
        (Point::new(0.0, y), Point::new(w, y), deck.between(0.02, 1.0) * w / 2.0)
    } else {
        let half = deck.between(0.15, 0.3) * w;
        let middle = w / 2.0;
        (
            Point::new(middle - half, 0.0),
            Point::new(middle + half, 0.0),
            deck.between(0.3, 1.0) * half,
        )
    };
    let bulge = -2.0 * rise / (to - from).hypot();
    let edge = Edge::Arc(Arc::from_bulge(from, to, bulge)?);
    let (runs, middle) = (Runs::of(&edge), edge.at(0.5));
    Some(Bar { runs, course: Course::Between(edge), centre: middle.y, lean: 0.0, ..like })
}

#[test]
fn what_nothing_stops_is_proven_in_any_shape() {
    let (seen, proven, long) = (Cell::new(0), Cell::new(0), Cell::new(0));
    let (bars, lights, refused) = (Cell::new(0), Cell::new(0), Cell::new(0));
    for_all(40, &house(), |house| {
        seen.set(seen.get() + 1);
        // In the point between a curved head and a bar, or at a jamb shorter than an old rebate is
        // wide, a rebate may not go round at all: an error.
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else {
            refused.set(refused.get() + 1);
            return Ok(());
        };
        if work.verdict() == Verdict::Stop {
            let stops = work.findings().into_iter().filter(|f| f.verdict == Verdict::Stop);
            for stop in stops.filter(|_| std::env::var("FILLISTER_TELL").is_ok()) {
                eprintln!("{} {} {} {}", stop.rule, stop.place, stop.measured, stop.limit);
            }
            return Ok(());
        }
        let proof = prove_work(&work, &house.workshop).unwrap();
        // A thin cutter in much wood needs more steps than a proof may take; that is told, not passed.
        if proof.faults.iter().all(|fault| fault.finding.rule == "prove.effort")
            && !proof.is_proven()
        {
            long.set(long.get() + 1);
            return Ok(());
        }
        prop_assert!(proof.is_proven(), "{:#?}", told(&proof));
        proven.set(proven.get() + 1);
        bars.set(bars.get() + usize::from(!work.sash.bars.is_empty()));
        lights.set(lights.get() + usize::from(work.fit.units.len() > 1));
        Ok(())
    });
    let count = (seen.get(), proven.get(), bars.get(), lights.get());
    assert!(refused.get() * 10 <= seen.get(), "{} of {} refused", refused.get(), seen.get());
    assert!(long.get() * 20 <= seen.get(), "{} of {} too long to prove", long.get(), seen.get());
    // A property of sashes that are all stopped would show nothing.
    assert!(proven.get() * 10 >= cases(40) * 7, "seen, proven, with bars, with lights: {count:?}");
    eprintln!("seen, proven, with bars, with several units: {count:?}; {} refused", refused.get());
}

// Bars that cross, that end on the sill, and that bulge from jamb to jamb: every program of them is proven,
// or a judgement stops them first.
#[test]
fn curved_bars_are_proven_or_stopped() {
    let (seen, proven, lights, stopped) =
        (Cell::new(0_u32), Cell::new(0_u32), Cell::new(0_u32), Cell::new(0_u32));
    for_all(8, &curved_house(), |house| {
        // One too steep for its place is no bar of any survey.
        if !refusals(&house).is_empty() {
            return Ok(());
        }
        seen.set(seen.get() + 1);
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.verdict() == Verdict::Stop {
            stopped.set(stopped.get() + 1);
            let stops = work.findings().into_iter().filter(|f| f.verdict == Verdict::Stop);
            for stop in stops.filter(|_| std::env::var("FILLISTER_TELL").is_ok()) {
                eprintln!("{} {} {} {}", stop.rule, stop.place, stop.measured, stop.limit);
            }
            return Ok(());
        }
        let proof = prove_work(&work, &house.workshop).unwrap();
        let long = proof.faults.iter().all(|fault| fault.finding.rule == "prove.effort");
        prop_assert!(proof.is_proven() || long, "{:#?}", told(&proof));
        proven.set(proven.get() + u32::from(proof.is_proven()));
        lights.set(lights.get() + u32::from(proof.is_proven() && work.fit.units.len() > 1));
        Ok(())
    });
    let count = (seen.get(), proven.get(), lights.get(), stopped.get());
    assert!(proven.get() * 4 >= seen.get(), "seen, proven, with several units, stopped: {count:?}");
    eprintln!("curved bars: seen, proven, with several units, stopped: {count:?}");
}

// Below the old rebates of a frame of one thickness, without bars, there is wood between the daylight and the outer
// edges everywhere, and everywhere once.
#[test]
fn what_goes_and_what_stays_is_the_whole_sash() {
    let divided = Cell::new(0);
    for_all(60, &house(), |house| {
        let mut sash = house.sashes[0].clone();
        sash.bars.clear();
        sash.bars_as = BarsAs::OneUnit;
        let thickness = sash.members.iter().fold(0.0_f64, |most, (_, m)| most.max(m.thickness));
        sash.members = sash.members.map(|member| Member { thickness, ..member.clone() });
        // Old rebates or members too wide for a short edge cannot go round: an error, not a shape.
        let Ok(work) = Work::new(&sash, &house.workshop) else { return Ok(()) };
        divided.set(divided.get() + 1);
        let (outer, sight) = (&work.sash.outer_outline, &work.sash.outline);
        let ring = outer.outline().area() - sight.outline().area();
        let room_face = 1e-3 - thickness;
        let (mut found, mut slivers) = (0.0, 0.0);
        for solid in work.rebate.go.iter().chain(&work.rebate.stay) {
            if solid.bottom < room_face && room_face < solid.top {
                found += solid.region.area();
                let round = solid.region.outline.edges().iter().map(Edge::length);
                slivers += THINNEST * round.sum::<f64>();
            }
        }
        prop_assert!((found - ring).abs() <= 1e-9 * ring + slivers, "{found} of {ring}");
        Ok(())
    });
    assert!(divided.get() * 10 >= cases(60) * 9, "{} divided", divided.get());
}
