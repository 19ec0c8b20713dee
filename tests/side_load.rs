//! Bites sideways: what nothing stops cuts no wider and deeper than the survey has it, in any shape and in several
//! set-ups.
//!
//! `FILLISTER_CASES=700` runs that many; `--nocapture` tells how many want care, and `FILLISTER_TELL=1` which.

use crate::support::machinable;
use crate::support::runs::{for_all, proven, told};
use crate::{setups, shapes};
use fillister::finding::{Finding, Verdict};
use fillister::job::{Work, prove_work};
use fillister::survey::House;
use proptest::prelude::*;
use std::cell::Cell;

/// None is a stop, and one in fifty at the most wants care.
fn bites(kind: &str, usual: u32, houses: &impl Strategy<Value = House>) {
    let (seen, care) = (Cell::new(0_u32), Cell::new(0_u32));
    for_all(usual, houses, |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            return Ok(());
        }
        let proof = prove_work(&work, &house.workshop).unwrap();
        let wide: Vec<&Finding> = proof.findings().filter(|f| f.rule == "prove.bite").collect();
        seen.set(seen.get() + u32::from(proof.swept));
        care.set(care.get() + u32::from(!wide.is_empty()));
        if std::env::var("FILLISTER_TELL").is_ok() {
            for finding in &wide {
                eprintln!("{}: {}", finding.place, finding.advised());
            }
        }
        let stop = wide.iter().any(|finding| finding.verdict == Verdict::Stop);
        prop_assert!(!stop, "{:#?}", told(&proof));
        Ok(())
    });
    let (seen, care) = (seen.get(), care.get());
    eprintln!("{kind}: of {seen} programs of a sash {care} bite wider in spots");
    assert!(care * 50 <= seen, "{care} of {seen}");
}

#[test]
fn rectangles_with_bars_are_cut_lane_by_lane() {
    bites("rectangles", 40, &machinable::house());
}

#[test]
fn any_shape_is_cut_lane_by_lane() {
    bites("shapes", 30, &shapes::house());
}

#[test]
fn several_set_ups_cut_lane_by_lane() {
    bites("set-ups", 20, &setups::house());
}

// By hand: the lip over the groove below is 2 mm thick, so that the loops of the first two layers of 1 mm lie 6.975 mm apart,
// those of the third 8: 1.025 mm further in, where the bar stands to 1 mm below the face and the third layer goes to 3.85.
#[test]
fn no_bar_is_met_taller_than_a_step_where_loops_lie_further_in() {
    let text = r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 9.5, flutes = 2, cutting_length = 30 }
cutting = { step_depth = 2.5, widen_step = 1, side_step = 0.95, score_depth = 0, finish_allowance = 0 }
limits  = { shows_stop = 20 }
[[sash]]
id        = "east-1"
kind      = "fixed"
thickness = 45
sight     = { width = 260, height = 260 }
stiles    = { width = 40 }
rails     = { width = 40 }
unit      = { build_up = "3-4-3", cover = 6, spacer_height = 6 }
clearance = { left = 1, right = 1, top = 1, bottom = 1 }
finish    = { bed = 1, bead = 5 }
moulding  = { shape = "square" }
bars_as   = "one-unit"
bars      = [{ runs = "upright", centre = 130, width = 44, rebate = { width = 3, depth = 1 } }]
[sash.member.left]
groove = { from_face = 6, width = 1, depth = 16 }
[sash.member.right]
rebate = { width = 6, depth = 5.7 }
[sash.member.bottom]
groove = { from_face = 2, width = 8, depth = 19 }
[sash.member.top]
groove = { from_face = 3.8, width = 7.4, depth = 10 }
"#;
    let work = proven(text);
    let widen = work.programs.programs.iter().find(|program| program.name == "3-widen.ngc");
    let widen = widen.unwrap().text().unwrap();
    // Over the bar, a cutter's radius and a millimetre beyond it: half of 2.85 mm, and there again.
    let steps = "X102.25\nG0 Z-2.425\nG1 X157.75\nX102.25\nZ-3.85 F400\n";
    assert_eq!(widen.matches(steps).count(), 1, "{widen}");
}

// The bar is lowered by 18.5 mm where the rebate of the head is 1 mm deep and narrower than a lane: the way in from beside it
// cuts through that floor, and met two layers at once where each was begun at the end that the one before had left.
#[test]
fn a_bar_is_begun_at_one_end_where_the_way_in_cuts_the_floor_of_the_frame() {
    proven(
        r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 12, flutes = 1, cutting_length = 35 }
cutting = { step_depth = 3.2, widen_step = 1, side_step = 0.95, score_depth = 0, finish_allowance = 0 }
limits  = { shows_stop = 20 }
[[sash]]
id        = "east-1"
kind      = "fixed"
thickness = 57
sight     = { outline = [[0, 0, 0], [246, 0, 0], [246, 104.7, 0.35], [232.2, 122, 0.112], [13.8, 122, 0.35], [0, 104.7, 0]] }
stiles    = { width = 45 }
rails     = { width = 45 }
rebate    = { width = 7, depth = 1 }
unit      = { build_up = "4-8-4", cover = 12, shape = "shaped" }
finish    = { bead = 7 }
moulding  = { shape = "square" }
bars_as   = "one-unit"
bars      = [{ runs = "upright", centre = 172.75, width = 42.5, thickness = 40, rebate = { width = 20, depth = 18.5 } }]
"#,
    );
}

// The lane along the bar lies at 108.5 mm, the turns at its right end reach to 109, where the floor of the rebate stands 12.5 mm
// wide: no way straight from there to where the next layer begins leads along that lane.
#[test]
fn no_way_back_over_a_bar_meets_the_floor_of_the_frame() {
    proven(
        r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 16.4, flutes = 2, cutting_length = 40 }
cutting = { step_depth = 1.5, widen_step = 1, side_step = 0.95, score_depth = 0, finish_allowance = 0, chip_load = 0.02, tolerance = 0.03, zero_error = 0 }
machine = { bed = [1200, 1200], clear_height = 2, max_feed = 300, max_plunge = 50, rapid = 500 }
limits  = { shows_stop = 20 }
[[sash]]
id        = "east-1"
kind      = "fixed"
thickness = 45
sight     = { width = 133, height = 217.75 }
stiles    = { width = 45 }
rails     = { width = 45 }
rebate    = { width = 1, depth = 1 }
unit      = { build_up = "4-6-4", cover = 7, spacer_height = 7, over = 0 }
clearance = { left = 1, right = 1, top = 1, bottom = 3.5 }
finish    = { bed = 0, bead = 7.78 }
moulding  = { shape = "square" }
bars_as   = "one-unit"
bars      = [{ runs = "cross", centre = 108.5, width = 19, rebate = { width = 9, depth = 21.78 } }]
[sash.member.right]
rebate = { width = 12.54, depth = 1 }
"#,
    );
}

// Over the bar the loops of 11.03 and 12.53 mm lie 0.017 mm apart: the later one shaves so much of the whole height of the
// bar, which is less than a cut may be off.
#[test]
fn a_hair_of_tall_wood_makes_no_bite_too_wide() {
    proven(
        r#"
house = "Tern Chapel"
[workshop]
cutter  = { diameter = 3, flutes = 1, cutting_length = 40 }
cutting = { step_depth = 1.5, widen_step = 1.03, side_step = 0.5, score_depth = 1, finish_allowance = 0, chip_load = 0.02, tolerance = 0.03, zero_error = 0 }
limits  = { shows_stop = 20, clearance_stop = 0, block_stop = 0 }
[[sash]]
id        = "east-1"
kind      = "fixed"
thickness = 45
sight     = { width = 215, height = 166.83 }
stiles    = { width = 60 }
rails     = { width = 58 }
unit      = { build_up = "6.4-6-4", cover = 16, spacer_height = 16 }
clearance = { left = 1, right = 1, top = 1, bottom = 1 }
blocks    = { height = 0.5 }
finish    = { bed = 1.805, bead = 12.5 }
moulding  = { shape = "square" }
bars_as   = "one-unit"
bars      = [{ runs = "upright", centre = 66, width = 34.7, rebate = { width = 1, depth = 1.2 } }]
[sash.member.left]
rebate = { width = 1.13, depth = 14.13 }
[sash.member.right]
rebate = { width = 18.58, depth = 23 }
[sash.member.bottom]
groove = { from_face = 10, width = 4.02, depth = 10.04 }
[sash.member.top]
rebate = { width = 12.26, depth = 26.3 }
"#,
    );
}

// Between a curved bar and the frame of a round sash light 3 ends in sharp corners, where the wood reaches in further than any
// side is wide: the cutter goes round in lanes, and none takes all of it.
#[test]
fn sharp_corners_between_a_curved_bar_and_the_frame_are_taken_in_lanes() {
    let text = r#"
house = "Tern Chapel"
[workshop]
limits = { front_stop = 0, beside_stop = 0 }
[[sash]]
id        = "east-2"
kind      = "fixed"
thickness = 39
sight     = { diameter = 600 }
bars_as   = "unit-per-light"
finish    = { bed = 2, bead = 5 }
unit      = { build_up = "4-6-4", cover = 4, spacer_height = 4, over = 1.5, tape = 1, shape = "shaped" }
[[sash.bars]]
runs   = "curved"
from   = [0, 60]
to     = [600, 60]
rise   = 150
width  = 40
rebate = { width = 10, depth = 13.7 }
[[sash.bars]]
runs   = "curved"
from   = [156.9, 0]
to     = [443.1, 0]
rise   = 143.1
width  = 40
rebate = { width = 10, depth = 13.7 }
[sash.member.left]
width  = 22.2
rebate = { width = 5.9, depth = 22 }
[sash.member.right]
width  = 22.2
groove = { from_face = 1.06, width = 7.5, depth = 6.44 }
[sash.member.bottom]
width  = 40
rebate = { width = 10.2, depth = 1 }
[sash.member.top]
width  = 70.5
thickness = 41
groove = { from_face = 16.7, width = 3.5, depth = 10 }
"#;
    proven(text);
}

// By hand: the jamb's old rebate is 1 mm wide and the head goes on smoothly from it, so that the bar is lowered up to 1 mm
// past the sight edge. The head's own is 9 mm wide, as is the new one: nothing stands there but the bar's end, of which
// the lap round the wall meets all but the 0.5 mm for the finishing cut, 7.5 mm where 3.6 are the most.
#[test]
fn an_end_of_a_bar_in_a_wider_old_rebate_is_cut_in_steps() {
    let text = r#"
house = "Tern House"
[workshop.cutting]
side_step = 0.3
[[sash]]
id = "a"
kind = "fixed"
thickness = 57
sight = { width = 500, height = 600, head = { shape = "semicircular" } }
stiles = { width = 57 }
rails = { width = 57 }
rebate = { width = 9, depth = 17 }
moulding = { shape = "square" }
unit = { build_up = "4-6-4", cover = 7, spacer_height = 7 }
bars = [{ runs = "upright", centre = 140, width = 40, rebate = { width = 2, depth = 24 } }]
[sash.member.left]
rebate = { width = 1, depth = 23 }
"#;
    proven(text);
}

// By hand: where the cutter first turns round the end of the bar, the head leads at 30 to 55° to it, and 6 mm of cutter are
// in wood 4 mm deep, where a slot may be 2.
#[test]
fn the_first_turn_under_a_steep_head_is_cut_in_steps() {
    let text = r#"
house = "Tern House"
[workshop]
cutter = { diameter = 6 }
machine = { bed = [1500, 1500] }
[[sash]]
id = "b"
kind = "fixed"
thickness = 57
sight = { width = 500, height = 760, head = { shape = "pointed", rise = 520 } }
stiles = { width = 57 }
rails = { width = 57 }
rebate = { width = 1, depth = 17 }
moulding = { shape = "square" }
unit = { build_up = "4-6-4" }
bars = [{ runs = "upright", centre = 360, width = 56, rebate = { width = 1, depth = 12 } }]
"#;
    proven(text);
}
