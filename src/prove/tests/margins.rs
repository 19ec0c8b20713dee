//! Margins against closed forms.

use super::fixture::*;
use crate::geometry::Side;
use crate::prove::{Across, Front, Proof, Reserve, Seat, Setup};
use crate::rebate::Rebate;
use approx::assert_relative_eq;
use kurbo::Rect;

/// The left stile and the top rail with a chamfer of 8 by 8 mm, 45 mm thick.
fn fronts() -> Vec<Front> {
    let stile = Front {
        name: "left stile".into(),
        area: Rect::new(-52.0, -74.0, 0.0, 132.0),
        across: Across::X,
        surface: vec![[-8.0, -45.0], [0.0, -37.0]],
        least: 5.0,
        lowest: None,
        outer: Some((Side::Left, 15.0)),
    };
    let rail = Front {
        name: "top rail".into(),
        area: Rect::new(0.0, 80.0, 100.0, 132.0),
        across: Across::Y,
        surface: vec![[80.0, -38.0], [88.0, -45.0]],
        least: 5.0,
        lowest: None,
        outer: Some((Side::Top, 15.0)),
    };
    vec![stile, rail]
}

/// Clearances of 2 mm, and 4 mm at the bottom.
fn seat() -> Seat {
    Seat { light: "whole sash".into(), unit: Rect::new(-12.0, -12.0, 112.0, 92.0), bed: 2.0 }
}

fn measured(fronts: Vec<Front>, seats: Vec<Seat>, rebate: &Rebate) -> Proof {
    let setup = Setup { reserve: Reserve { fronts, seats }, ..setup() };
    let proof = proof(&programs(100.0, 80.0), rebate, &setup);
    assert!(proof.is_proven(), "{:#?}", proof.faults);
    proof
}

#[test]
fn wood_is_what_is_left_before_the_moulding() {
    let proof = measured(fronts(), vec![], &frame(100.0, 80.0));
    let [stile, rail] = &proof.margins.wood[..] else { panic!("{:?}", proof.margins) };
    // Platform at −27; the chamfers come up to −37 and −38 at the sight edge.
    assert_relative_eq!(stile.wood, 10.0, epsilon = 1e-9);
    assert_relative_eq!(rail.wood, 11.0, epsilon = 1e-9);
    assert_relative_eq!(stile.at[0], 0.0, epsilon = 1e-9);
    assert_relative_eq!(rail.at[1], 80.0, epsilon = 1e-9);
    assert_eq!((stile.z, stile.lowest), (-27.0, -27.0));
    assert_eq!(proof.margins.least_wood().unwrap().part, "left stile");
}

#[test]
fn a_hollow_behind_the_cut_counts() {
    // A groove from −20 to −32 behind the old rebate of the left stile: its floor is what is left.
    let mut rebate = frame(100.0, 80.0);
    rebate.go.clear();
    let mut under = rebate.stay.remove(1);
    under.top = -32.0;
    rebate.stay.push(under);
    let setup = Setup { reserve: Reserve { fronts: fronts(), seats: vec![] }, ..setup() };
    let proof = proof(&programs(100.0, 80.0), &rebate, &setup);
    assert_relative_eq!(proof.margins.wood[0].wood, 5.0, epsilon = 1e-9);
}

#[test]
fn each_direction_has_its_limit() {
    let zero = measured(fronts(), vec![seat()], &frame(100.0, 80.0)).margins.zero.unwrap();
    // Of unequal clearances a and b a corner takes R ≤ a + b + √(2ab): with R 6 and b 2,
    // a is (√5 − 1)², and the rest of the 2 mm may be shifted.
    let corner = 2.0 - (5.0_f64.sqrt() - 1.0).powi(2);
    for way in [&zero.x.minus, &zero.x.plus, &zero.y.minus] {
        assert_relative_eq!(way.by, corner, epsilon = 1e-9);
        assert!(
            way.limited_by.as_ref().unwrap().to_string().contains("round corner at the upper"),
            "{way:?}"
        );
    }
    // The lower corners are chiselled: the whole clearance counts.
    assert_relative_eq!(zero.y.plus.by, 4.0, epsilon = 1e-9);
    assert_eq!(*zero.y.plus.limited_by.as_ref().unwrap(), "whole sash, clearance at the bottom");
    // Left stile 52 wide, wall at 14, 15 wanted.
    assert_relative_eq!(zero.x.minus.wood, 52.0 - 14.0 - 15.0, epsilon = 1e-9);
    assert_eq!(*zero.x.minus.wood_limited_by.as_ref().unwrap(), "left stile, wood beside the cut");
    assert_eq!((zero.x.plus.wood, &zero.x.plus.wood_limited_by), (50.0, &None));
    assert_relative_eq!(zero.y.plus.wood, 52.0 - 14.0 - 15.0, epsilon = 1e-9);
    // Deeper: 10 mm before the moulding, 5 wanted. Higher: the bed.
    assert_relative_eq!(zero.z.minus.by, 5.0, epsilon = 1e-9);
    assert_eq!(*zero.z.minus.limited_by.as_ref().unwrap(), "left stile, wood before the moulding");
    assert_relative_eq!(zero.z.plus.by, 2.0, epsilon = 1e-9);
}

#[test]
fn a_turn_is_limited_where_the_first_corner_touches() {
    let mut rebate = frame(100.0, 80.0);
    for corner in &mut rebate.pockets[0].corners {
        corner.chisel = true;
    }
    let zero = measured(vec![], vec![seat()], &rebate).margins.zero.unwrap();
    // Anticlockwise the upper right corner comes to the right wall: 112 cos θ + 92 sin θ = 114.
    let (long, ahead) = (112.0_f64.hypot(92.0), 92.0_f64.atan2(112.0));
    let angle = ahead - (114.0 / long).acos();
    assert_relative_eq!(zero.turn.plus.by, angle.to_degrees(), epsilon = 1e-9);
    assert_eq!(*zero.turn.plus.limited_by.as_ref().unwrap(), "whole sash, clearance at the right");
    // Clockwise it comes to the top: 92 cos θ + 112 sin θ = 94.
    let angle = 112.0_f64.atan2(92.0) - (94.0 / long).acos();
    assert_relative_eq!(zero.turn.minus.by, angle.to_degrees(), epsilon = 1e-9);
}

#[test]
fn a_shift_into_a_quirk_is_limited_by_the_wood_there() {
    let mut fronts = fronts();
    // Upwards from −45 at −14.5 to −31 at −16: 5 mm are left at −32, thirteen fourteenths up.
    fronts[0].surface = vec![[-18.0, -45.0], [-16.0, -31.0], [-14.5, -45.0]];
    fronts.truncate(1);
    let zero = measured(fronts, vec![], &frame(100.0, 80.0)).margins.zero.unwrap();
    assert_relative_eq!(zero.x.minus.by, 0.5 + 1.5 * 13.0 / 14.0, epsilon = 1e-9);
    assert_eq!(*zero.x.minus.limited_by.as_ref().unwrap(), "left stile, wood before the moulding");
}

#[test]
fn a_bar_that_needs_height_limits_the_depth() {
    let mut fronts = fronts();
    fronts[1].lowest = Some(-28.5);
    let zero = measured(fronts, vec![], &frame(100.0, 80.0)).margins.zero.unwrap();
    assert_relative_eq!(zero.z.minus.by, 1.5, epsilon = 1e-9);
    assert_eq!(*zero.z.minus.limited_by.as_ref().unwrap(), "top rail, its height");
}

/// The margin is where programs that really are shifted stop keeping the wood that is wanted.
#[test]
fn programs_shifted_by_the_margin_leave_what_is_wanted_and_no_more() {
    let rebate = frame(100.0, 80.0);
    let by = measured(fronts(), vec![], &rebate).margins.zero.unwrap().z.minus.by;
    let setup = Setup { reserve: Reserve { fronts: fronts(), seats: vec![] }, ..setup() };
    for (more, enough) in [(-0.01, true), (0.01, false)] {
        let mut texts = programs(100.0, 80.0);
        let deeper = format!("Z{}", -27.0 - by - more);
        texts[2].1 = texts[2].1.replace("Z-27 ", &format!("{deeper} "));
        let proof = proof(&texts, &rebate, &setup);
        let least = proof.margins.least_wood().unwrap();
        assert_eq!(least.wood >= least.least, enough, "{least:?}");
    }
}

#[test]
fn nothing_known_gives_no_margin() {
    assert_eq!(measured(vec![], vec![], &frame(100.0, 80.0)).margins.zero, None);
}
