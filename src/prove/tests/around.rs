//! Shank, holder, clamps and metal: each hit beside the same program that misses it.

use super::fixture::*;
use crate::geometry::{Outline, Region};
use crate::prove::{Holder, Proof, Setup};
use crate::rebate::Rebate;
use crate::sash::Solid;
use kurbo::Rect;

const CLEAN: [&str; 0] = [];

fn proven_with(setup: &Setup) -> Proof {
    proof(&programs(100.0, 80.0), &frame(100.0, 80.0), setup)
}

fn rules_with(setup: &Setup) -> Vec<&'static str> {
    rules(&proven_with(setup))
}

fn block(name: &str, rect: Rect, top: f64, bottom: f64) -> Solid {
    let region = Region::solid(Outline::rectangle(rect).unwrap());
    Solid { name: crate::language::Text::name(name), region, top, bottom }
}

fn clamp(rect: Rect, top: f64) -> Setup {
    Setup { obstacles: vec![block("toggle clamp", rect, top, -45.0)], ..setup() }
}

#[test]
fn a_thick_shank_hits_the_finished_wall() {
    let thick = Setup { shank_diameter: 14.0, cutting_length: 26.9, ..setup() };
    assert_eq!(rules_with(&thick), ["prove.reach"]);
    assert_eq!(rules_with(&Setup { cutting_length: 27.0, ..thick }), CLEAN);
}

#[test]
fn a_thick_shank_hits_wood_that_is_yet_to_go() {
    // A block of 24 mm that goes in two strokes a layer; nothing else stands.
    let go = vec![block("block", Rect::new(0.0, 0.0, 24.0, 40.0), 0.0, -20.0)];
    let rebate = Rebate { platform: -20.0, pockets: vec![], go, may_go: vec![], stay: vec![] };
    let head = "G21 G90 G17\nG0 Z8\nS18000 M3\nG0 X6 Y-10\nF300\n";
    let stroke = |x: u32, z: i32| format!("G0 Z8\nG0 X{x} Y-10\nG1 Z{z}\nG1 Y50\n");
    let thick = Setup { shank_diameter: 20.0, cutting_length: 15.0, step_depth: 10.0, ..setup() };
    let layers = [(6, -10), (18, -10), (6, -20), (18, -20)];
    let columns = [(6, -10), (6, -20), (18, -10), (18, -20)];
    for (order, expected) in [(layers, vec![]), (columns, vec!["prove.reach"])] {
        let strokes: String = order.into_iter().map(|(x, z)| stroke(x, z)).collect();
        let text = format!("{head}{strokes}G0 Z8\nM5\nM2\n");
        let proof = proof(&[("block.ngc", text)], &rebate, &thick);
        assert_eq!(rules(&proof), expected);
        if let Some(fault) = proof.faults.first() {
            assert!(fault.finding.advised().contains("not yet cut"), "{fault:?}");
            // The shank begins 5 mm below the face.
            assert!((fault.finding.measured.value - 20.0).abs() < 1e-9, "{fault:?}");
        }
    }
}

#[test]
fn a_holder_hits_the_face() {
    let held = |stick_out| Setup {
        cutting_length: 20.0,
        shank_diameter: 8.0,
        holder: Some(Holder { diameter: 40.0, stick_out }),
        ..setup()
    };
    assert_eq!(rules_with(&held(26.9)), ["prove.holder"]);
    assert_eq!(rules_with(&held(27.0)), CLEAN);
    let wrong = Setup { holder: Some(Holder { diameter: 40.0, stick_out: 10.0 }), ..setup() };
    assert_eq!(rules_with(&wrong), ["prove.setup"]);
}

#[test]
fn a_clamp_beside_the_cut() {
    // The rim comes to X −14.
    let near = proven_with(&clamp(Rect::new(-40.0, 20.0, -16.0, 50.0), 25.0));
    assert!(near.is_proven(), "{:#?}", near.faults);
    let nearest = near.margins.obstacle.unwrap();
    assert!((nearest.distance - 2.0).abs() < 1e-9, "{nearest:?}");
    assert_eq!(nearest.solid, "toggle clamp");
    let hit = proven_with(&clamp(Rect::new(-40.0, 20.0, -13.5, 50.0), 25.0));
    assert_eq!(rules(&hit), ["prove.obstacle"]);
    let fault = &hit.faults[0];
    assert!((fault.finding.measured.value - 0.5).abs() < 1e-9, "{fault:?}");
    assert!(fault.line.is_some() && fault.finding.advised().contains("toggle clamp"), "{fault:?}");
}

#[test]
fn metal_under_the_platform_is_left_alone_and_metal_in_it_is_hit() {
    let nail = Rect::new(-12.0, 30.0, -8.0, 34.0);
    assert_eq!(rules_with(&clamp(nail, -27.0)), CLEAN);
    assert_eq!(rules_with(&clamp(nail, -26.9)), ["prove.obstacle"]);
}

#[test]
fn a_rapid_move_over_a_clamp() {
    // Over the middle of the opening at Z 8, where nothing is cut.
    let mut texts = programs(100.0, 80.0);
    texts[0].1 = texts[0].1.replacen("G0 X0\n", "G0 X60 Y50\nG0 X60 Y30\nG0 X0\n", 1);
    let proven = |top| {
        let setup = clamp(Rect::new(58.0, 38.0, 62.0, 42.0), top);
        proof(&texts, &frame(100.0, 80.0), &setup)
    };
    let low = proven(7.5);
    assert!(low.is_proven(), "{:#?}", low.faults);
    assert!((low.margins.over_obstacle.unwrap().distance - 0.5).abs() < 1e-9);
    let high = proven(8.5);
    assert_eq!(rules(&high), ["prove.obstacle"]);
    assert_eq!(high.faults[0].program.as_deref(), Some("1-air-run.ngc"));
}

#[test]
fn a_clamp_on_the_way_to_the_next_program() {
    // From X 0 Y 0, where the air run ends, to X 30 Y 40, where the widening begins.
    let between = Rect::new(10.0, 16.0, 14.0, 20.0);
    assert_eq!(rules_with(&clamp(between, 8.0)), CLEAN);
    let hit = proven_with(&clamp(between, 8.5));
    assert_eq!(rules(&hit), ["prove.obstacle"]);
    assert_eq!(hit.faults[0].program.as_deref(), Some("2-widen.ngc"));
}

#[test]
fn a_holder_that_hangs_over_hits_a_clamp_that_the_cutter_misses() {
    // Axis at X −8, holder 20 mm beyond it and 11 mm above the face at full depth.
    let beside = |x1| clamp(Rect::new(-60.0, 20.0, x1, 50.0), 12.0);
    let holder = Some(Holder { diameter: 40.0, stick_out: 38.0 });
    assert_eq!(rules_with(&Setup { holder, ..beside(-27.9) }), ["prove.obstacle"]);
    assert_eq!(rules_with(&Setup { holder, ..beside(-28.1) }), CLEAN);
    assert_eq!(rules_with(&beside(-27.9)), CLEAN);
}

/// From one corner of the opening to the other at the clear height, past a clamp that stands higher: each axis
/// at its own speed, the way may lead anywhere between the two; as a feed move, or one axis after the other,
/// it is known.
#[test]
fn a_slanting_rapid_may_go_anywhere_between_its_ends() {
    let past = |moves: &str| {
        let text = format!("G21 G90 G17\nG0 Z8\nX0 Y0\n{moves}\nM2\n");
        let clamp = clamp(Rect::new(60.0, 10.0, 70.0, 14.0), 20.0);
        let wood = Rebate { go: vec![], ..frame(100.0, 80.0) };
        rules(&proof(&[("past.ngc", text)], &wood, &clamp))
    };
    assert_eq!(past("X100 Y80"), ["prove.obstacle"]);
    assert_eq!(past("G1 X100 Y80 F1000"), CLEAN);
    assert_eq!(past("Y80\nX100"), CLEAN);
    assert_eq!(past("X100\nY80"), CLEAN);
    assert_eq!(past("Z20\nX100 Y80"), CLEAN);
    assert_eq!(past("X100 Y80 Z30"), ["prove.obstacle"]);
}
