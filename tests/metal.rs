//! Metal and screws in the way: what meets the wood that goes or the room of a unit stops the work, whatever it is
//! and wherever it comes from, and programs that would run into it are not proven.
//!
//! Samples of each solid are looked up in the walls of the fit and in the wood of the rebate; the judgement looks at
//! outlines.

use crate::support::chance::Deck;
use crate::support::houses::{DECK, deck};
use crate::support::runs::for_all;
use crate::support::{machinable, shapes};
use fillister::finding::Verdict;
use fillister::geometry::Side;
use fillister::job::{self, Work, prove_work};
use fillister::survey::{self, House, Metal, Screw, ScrewFrom};
use kurbo::{Point, Vec2};
use proptest::prelude::*;
use std::cell::Cell;
use std::f64::consts::TAU;

/// A machinable house, square or of another shape, with one piece of metal or one screw near the cut.
fn house() -> impl Strategy<Value = House> {
    (machinable::house(), deck(DECK)).prop_map(|(mut house, deck)| {
        let deck = &mut Deck::new(deck);
        let sash = &mut house.sashes[0];
        (sash.metal, sash.screws, sash.clamps) = (Vec::new(), Vec::new(), Vec::new());
        if deck.chance(0.3) {
            shapes::reshape(sash, deck);
        }
        let (w, h) = (sash.sight.width, sash.sight.height);
        let side = *deck.pick(&Side::ALL);
        let member = sash.members.get(side).clone();
        let along = if side.is_upright() { h } else { w };
        let (at, name) = (deck.between(-10.0, along + 10.0), "sprig".into());
        if deck.chance(0.3) {
            let behind = deck.between(-30.0, member.width);
            let at = match side {
                Side::Left => Point::new(-behind, at),
                Side::Right => Point::new(w + behind, at),
                Side::Bottom => Point::new(at, -behind),
                Side::Top => Point::new(at, h + behind),
            };
            let (radius, from_face) = (deck.between(0.5, 8.0), deck.between(0.0, 50.0));
            sash.metal.push(Metal { name, at, radius, from_face, cleared: false });
        } else {
            let (from, most) = if deck.chance(0.6) {
                let from_face = deck.between(0.0, member.thickness);
                (ScrewFrom::OuterEdge { from_face }, member.width)
            } else {
                let from_sight = deck.between(0.0, member.width);
                (ScrewFrom::RoomFace { from_sight }, member.thickness)
            };
            let length = deck.between(0.5 * most, most);
            sash.screws.push(Screw { member: side, from, at, length, cleared: false });
        }
        house
    })
}

/// Half the thread of a screw, mm.
const THREAD: f64 = 2.5;
/// Between samples, and what may lie between a sample and the edge of a solid, mm.
const STEP: f64 = 0.25;

/// Samples of what is seen of the one piece of metal of a sash, and Z of its top.
fn samples(work: &Work) -> (Vec<Point>, f64) {
    let measured = &work.sash.measured;
    let square = |along: Vec2, aside: Vec2, from: Point, length: f64, half: f64| -> Vec<Point> {
        let count = |length: f64| (length / STEP).floor() as usize;
        (0..=count(length))
            .flat_map(|i| {
                (0..=count(2.0 * half))
                    .map(move |j| from + i as f64 * STEP * along + (j as f64 * STEP - half) * aside)
            })
            .collect()
    };
    let (x, y) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
    let disc = |at: Point, radius: f64| -> Vec<Point> {
        let all = square(x, y, at - radius * x, 2.0 * radius, radius);
        all.into_iter().filter(|point| point.distance(at) <= radius).collect()
    };
    if let [metal] = &measured.metal[..] {
        return (disc(metal.at, metal.radius), -metal.from_face);
    }
    let [screw] = &measured.screws[..] else { panic!("one screw") };
    let Some([from, to]) = work.sash.screw_axis(screw) else { return (Vec::new(), 0.0) };
    match screw.from {
        ScrewFrom::OuterEdge { from_face } => {
            let along = (to - from).normalize();
            let aside = Vec2::new(-along.y, along.x);
            (square(along, aside, from, screw.length, THREAD), THREAD - from_face)
        }
        ScrewFrom::RoomFace { .. } => {
            let thickness = measured.members.get(screw.member).thickness;
            (disc(from, THREAD), screw.length - thickness)
        }
    }
}

#[test]
fn metal_in_the_way_stops_whatever_it_is() {
    let (met, clear, proven) = (Cell::new(0), Cell::new(0), Cell::new(0));
    for_all(80, &house(), |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        let (samples, top) = samples(&work);
        if samples.is_empty() {
            return Ok(());
        }
        let deep = |clear: f64| top + work.fit.depth > clear;
        let inside = |clear: f64| {
            samples.iter().any(|point| {
                work.fit.units.iter().any(|unit| {
                    let wall = unit.outlines.wall.outline();
                    let near = wall.distance_to(*point) <= clear.abs();
                    if clear > 0.0 {
                        wall.contains(*point) && !near
                    } else {
                        wall.contains(*point) || near
                    }
                })
            })
        };
        let stopped = work
            .findings()
            .iter()
            .any(|finding| finding.rule == "metal.in-path" && finding.verdict == Verdict::Stop);
        if deep(1e-6) && inside(1e-6) {
            met.set(met.get() + 1);
            prop_assert!(stopped, "in the way and not stopped");
            // Where it stands in wood that goes for certain: a cutter behind the wall reaches it. In corners, which
            // stay round, none does.
            let radius = house.workshop.cutter.radius();
            let reached = |point: Point| {
                work.fit.units.iter().any(|unit| {
                    let wall = unit.outlines.wall.outline();
                    let free = |at: &Point| wall.contains(*at) && wall.distance_to(*at) >= radius;
                    let around = (0..64).map(|turn| {
                        point + (radius - 0.2) * Vec2::from_angle(TAU * f64::from(turn) / 64.0)
                    });
                    around.chain([point]).any(|at| free(&at))
                })
            };
            let gone = samples.iter().any(|point| {
                work.rebate.go.iter().any(|solid| {
                    solid.bottom < top - 0.2
                        && reached(*point)
                        && solid.region.contains(*point)
                        && solid.region.edges().all(|edge| edge.distance_to(*point) > 0.2)
                })
            });
            if gone && !work.programs.programs.is_empty() {
                let proof = prove_work(&work, &house.workshop).unwrap();
                prop_assert!(!proof.is_proven(), "programs that run into metal");
            }
        } else if !(deep(-0.01) && inside(-2.0 * STEP)) {
            clear.set(clear.get() + 1);
            prop_assert!(!stopped, "stopped though clear of the cut");
            if work.verdict() != Verdict::Stop && clear.get() % 3 == 0 {
                let proof = prove_work(&work, &house.workshop).unwrap();
                let struck =
                    proof.faults.iter().any(|fault| fault.finding.rule == "prove.obstacle");
                prop_assert!(!struck, "metal beside the cut is struck");
                proven.set(proven.get() + 1);
            }
        }
        Ok(())
    });
    let count = (met.get(), clear.get(), proven.get());
    assert!(met.get() >= 20 && clear.get() >= 20 && proven.get() >= 5, "{count:?}");
}

/// A sash whose wall and unit lie 8 mm apart on the left: 37 mm of wood beside the cut.
fn wide_gap(screw: &str) -> House {
    let text = format!(
        "house = \"Samphire Cottage\"\n[[sash]]\nid = \"s\"\nkind = \"fixed\"\nthickness = 57\n\
         sight = {{ width = 600, height = 500 }}\nstiles = {{ width = 57 }}\n\
         rails = {{ top = 57, bottom = 74 }}\nrebate = {{ width = 9, depth = 17 }}\n\
         moulding = {{ shape = \"ovolo\", width = 8, depth = 10 }}\nunit = {{ build_up = \"4-6-4\" }}\n\
         clearance = {{ left = 8 }}\n\
         screws = [{{ member = \"left stile\", from = \"outer edge\", at = 100, {screw} }}]\n"
    );
    survey::read(&text, "screw.toml").unwrap()
}

// By hand: 57 of stile less 12 of cover and 8 of clearance are 37 mm of wood; 39 mm of screw stand out of the wall by
// 2 and stay 6 short of the unit.
#[test]
fn a_screw_between_the_wall_and_the_unit_stops_the_programs() {
    let stops = |screw: &str| {
        let made = job::make(&wide_gap(screw)).unwrap();
        let sash = &made.report.sashes[0];
        let found = sash.findings.iter().filter(|finding| finding.verdict == Verdict::Stop);
        (found.map(|finding| finding.rule).collect::<Vec<_>>(), sash.programs.len())
    };
    assert_eq!(stops("length = 39, from_face = 22"), (vec!["metal.in-path"], 0));
    for free in ["length = 37", "length = 39, cleared = true", "length = 39, from_face = 30"] {
        let (found, programs) = stops(free);
        assert!(found.is_empty() && programs > 0, "{free}: {found:?}");
    }
    // The programs of the drawn screw, run while it is still there.
    let made = wide_gap("length = 39, from_face = 22");
    let work = Work::new(&made.sashes[0], &made.workshop).unwrap();
    let proof = prove_work(&work, &made.workshop).unwrap();
    let struck = proof.faults.iter().find(|fault| fault.finding.rule == "prove.obstacle").unwrap();
    assert!(struck.finding.advised().contains("screw in the left stile"), "{struck:?}");
}

// A thread of 5 mm whose axis lies in the face stands 2.5 mm out of it.
#[test]
fn metal_higher_than_rapid_moves_stops_the_programs() {
    let found = |clear: f64| {
        let mut house = wide_gap("length = 20, from_face = 0");
        house.workshop.machine.clear_height = Some(clear);
        let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
        let all = work.findings();
        all.iter().find(|finding| finding.rule == "machine.clear-height").unwrap().verdict
    };
    assert_eq!(found(2.4), Verdict::Stop);
    assert_eq!(found(2.5), Verdict::Clear);
}
