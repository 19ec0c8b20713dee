//! Each judgement with a program that breaks it, beside the same program clean.

use super::fixture::*;
use crate::finding::Verdict;
use crate::geometry::{Outline, Placement, Region};
use crate::prove::{Program, Setup, prove};
use crate::rebate::Rebate;
use crate::sash::Solid;
use approx::assert_relative_eq;
use kurbo::Rect;
use std::f64::consts::PI;

const WIDTH: f64 = 100.0;
const HEIGHT: f64 = 80.0;

/// The rules that the cut breaks once `from`, in program `index`, has become `to`. `from` must
/// stand there: a fault that was never planted would prove nothing.
fn planted(index: usize, from: &str, to: &str) -> Vec<&'static str> {
    planted_in(&setup(), index, from, to)
}

fn planted_in(setup: &Setup, index: usize, from: &str, to: &str) -> Vec<&'static str> {
    let mut texts = programs(WIDTH, HEIGHT);
    let text = &texts[index].1;
    assert!(text.contains(from), "{from} is not in\n{text}");
    texts[index].1 = text.replacen(from, to, 1);
    let proof = proof(&texts, &frame(WIDTH, HEIGHT), setup);
    assert_eq!(proof.is_proven(), proof.faults.is_empty());
    rules(&proof)
}

const CLEAN: [&str; 0] = [];

#[test]
fn the_same_programs_are_clean_without_the_fault() {
    assert_eq!(planted(1, "G21", "G21"), CLEAN);
}

#[test]
fn gouge_sideways() {
    // Walls at x −14 and y 94; the cutter's axis 6 mm inside them.
    assert_eq!(planted(1, "\nX-8\n", "\nX-8.06\n"), ["prove.gouge"]);
    assert_eq!(planted(1, "\nX-8\n", "\nX-8.04\n"), CLEAN);
    assert_eq!(planted(1, "\nY88\n", "\nY88.06\n"), ["prove.gouge"]);
    assert_eq!(planted(1, "\nY88\n", "\nY88.04\n"), CLEAN);
}

#[test]
fn gouge_downwards() {
    assert_eq!(planted(2, "G1 Z-27 F400", "G1 Z-27.06 F400"), ["prove.gouge"]);
    assert_eq!(planted(2, "G1 Z-27 F400", "G1 Z-27.04 F400"), CLEAN);
}

#[test]
fn the_gouge_is_told_with_line_place_and_depth() {
    let mut texts = programs(WIDTH, HEIGHT);
    texts[1].1 = texts[1].1.replacen("\nX-8\n", "\nX-8.5\n", 1);
    let proof = proof(&texts, &frame(WIDTH, HEIGHT), &setup());
    let worst = proof
        .faults
        .iter()
        .max_by(|a, b| a.finding.measured.value.total_cmp(&b.finding.measured.value));
    let worst = worst.unwrap();
    assert!((worst.finding.measured.value - 0.5).abs() < 1e-9);
    assert_eq!(worst.program.as_deref(), Some("2-widen.ngc"));
    let line = texts[1].1.lines().position(|line| line == "X-8.5").unwrap() + 1;
    assert_eq!(proof.faults[0].line, Some(line));
    assert!(
        proof.faults[0]
            .finding
            .place
            .to_string()
            .starts_with(&format!("2-widen.ngc line {line}, X -8.5"))
    );
}

#[test]
fn leftover_in_depth_and_beside() {
    assert_eq!(planted(2, "G1 Z-27 F400", "G1 Z-26.9 F400"), ["prove.leftover"]);
    assert_eq!(planted(2, "G1 Z-27 F400", "G1 Z-26.96 F400"), CLEAN);
    // The last lap along the wall stops short of it.
    let mut texts = programs(WIDTH, HEIGHT);
    for (shift, rule) in [("-7.9", true), ("-7.96", false)] {
        for text in &mut texts {
            text.1 = text
                .1
                .replace("X-8 ", &format!("X{shift} "))
                .replace("X-8\n", &format!("X{shift}\n"));
        }
        let found = rules(&proof(&texts, &frame(WIDTH, HEIGHT), &setup()));
        assert_eq!(found, if rule { vec!["prove.leftover"] } else { vec![] }, "{shift}");
        texts = programs(WIDTH, HEIGHT);
    }
}

#[test]
fn no_programs_leave_everything() {
    assert_eq!(rules(&proof(&[], &frame(WIDTH, HEIGHT), &setup())), ["prove.leftover"]);
}

#[test]
fn rapid_through_wood_and_low() {
    assert_eq!(
        planted(1, "G1 X-8 F1200\nY88", "G1 X-8 F1200\nG0 Y88\nG1"),
        ["prove.rapid-in-wood"]
    );
    assert_eq!(planted(1, "G1 Z-4 F400", "G0 Z-4"), ["prove.rapid"]);
    // Straight down in the opening to no less than a millimetre above the face.
    assert_eq!(planted(1, "G1 Z-4 F400", "G0 Z1\nG1 Z-4 F400"), CLEAN);
    assert_eq!(planted(1, "G1 Z-4 F400", "G0 Z0.9\nG1 Z-4 F400"), ["prove.rapid"]);
    // On the way back everything is cut already: low all the same.
    assert_eq!(planted(1, "X30\nG0 Z8", "G0 X30\nG0 Z8"), ["prove.rapid"]);
    assert_eq!(planted(1, "G0 Z8\nM5", "G0 Z7\nG0 X0 Y0\nG0 Z8\nM5"), ["prove.rapid"]);
}

// By hand: the widening bites 5 mm on three sides and 7 below, 4 mm deep; the deepening first cuts a slot of 12 mm,
// 3 and 3.5 mm deep. Beyond a tenth of 12 mm over the limit a bite is too wide, if it takes more than one of the
// limit at a step of 4, but for the tolerance of 0.05: 12 · 3.45 = 41.4 against 10.5 · 4 = 42 and 10.3 · 4 = 41.2.
#[test]
fn a_wide_bite_must_be_so_much_shallower() {
    let judged = |widest_bite: f64| {
        let setup = Setup { widest_bite, ..setup() };
        proof(&programs(WIDTH, HEIGHT), &frame(WIDTH, HEIGHT), &setup)
    };
    assert_eq!(rules(&judged(10.5)), CLEAN);
    assert_eq!(rules(&judged(10.3)), ["prove.bite"]);
    for (limit, at_fault) in
        [(6.0, vec!["3-deepen.ngc"]), (5.0, vec!["2-widen.ngc", "3-deepen.ngc"])]
    {
        let proof = judged(limit);
        assert_eq!(rules(&proof), ["prove.bite"]);
        let mut names: Vec<_> = proof.faults.iter().filter_map(|f| f.program.as_deref()).collect();
        names.dedup();
        assert_eq!(names, at_fault);
        let finding = &proof.faults.last().unwrap().finding;
        assert_relative_eq!(finding.measured.value, 12.0, epsilon = 1e-9);
        assert_eq!(finding.limit.value, limit);
        assert!(finding.advised().contains("12.0 mm sideways and 3."), "{}", finding.advised());
    }
}

// A slot of 12 mm through a block: 15 mm of it are none to speak of for a cutter of 12 mm, 24 want care, and 50 are
// too much, in however short moves.
#[test]
fn a_wide_bite_counts_by_its_length_in_moves_of_any() {
    let setup = Setup { widest_bite: 6.0, ..setup() };
    let (clear, caution, stop) = (None, Some(Verdict::Caution), Some(Verdict::Stop));
    for (length, verdict) in [(15, clear), (24, caution), (50, stop)] {
        for moves in [1, 9, 40, 400] {
            let outline = Outline::rectangle(Rect::new(0.0, 0.0, f64::from(length), 40.0)).unwrap();
            let region = Region::solid(outline);
            let block = Solid {
                name: crate::language::Text::name("block"),
                region,
                top: 0.0,
                bottom: -3.0,
            };
            let block = Rebate {
                platform: -3.0,
                pockets: vec![],
                go: vec![block],
                may_go: vec![],
                stay: vec![],
            };
            let at =
                |index: i32| -20.0 + f64::from(length + 40) * f64::from(index) / f64::from(moves);
            let along: String = (1..=moves)
                .map(|index| format!("X{:.4}\n", at(index)))
                .collect::<Vec<_>>()
                .concat();
            let text = format!(
                "G21 G90 G17 G94\nG0 Z8\nS18000 M3\nX-20 Y20\nG1 Z-3 F400\nF1200\n{along}G0 Z8\nM5\nM2\n"
            );
            let proof = prove(&[Program::new("slot.ngc", &text)], &block, &setup);
            let found = proof.findings().filter(|finding| finding.rule == "prove.bite");
            let found = found.map(|finding| finding.verdict).max();
            assert_eq!(found, verdict, "{length} mm in {moves} moves");
        }
    }
}

#[test]
fn too_deep_a_step() {
    assert_eq!(planted(1, "G1 Z-4 F400", "G1 Z-4.1 F400"), ["prove.step"]);
    assert_eq!(planted(1, "G1 Z-4 F400", "G1 Z-4.04 F400"), CLEAN);
    // Without the widening that should come before it, and that no program brings.
    let mut texts = programs(WIDTH, HEIGHT);
    texts.remove(1);
    assert_eq!(
        rules(&proof(&texts, &frame(WIDTH, HEIGHT), &setup())),
        ["prove.load", "prove.step"]
    );
}

// A hollow from 4 to 6 mm below the face: the first pass ends where it begins, but for the last digit of a program,
// and the second goes on to 9.9. It meets 3.9 mm of wood and a film; a lip of 0.1 mm is no film.
#[test]
fn a_film_over_a_hollow_is_no_step() {
    let mut rebate = frame(WIDTH, HEIGHT);
    let below = crate::sash::Solid { top: -6.0, ..rebate.go[0].clone() };
    rebate.go[0].bottom = -4.0;
    rebate.go.push(below);
    for (first, expected) in [("-4", vec![]), ("-3.9999", vec![]), ("-3.9", vec!["prove.step"])] {
        let mut texts = programs(WIDTH, HEIGHT);
        texts[1].1 = texts[1].1.replace("Z-4 ", &format!("Z{first} ")).replace("Z-8 ", "Z-9.9 ");
        assert_eq!(rules(&proof(&texts, &rebate, &setup())), expected, "{first}");
    }
}

#[test]
fn a_wrong_order_is_told_as_such() {
    let mut texts = programs(WIDTH, HEIGHT);
    texts.swap(1, 2);
    let proof = proof(&texts, &frame(WIDTH, HEIGHT), &setup());
    let [fault] = &proof.faults[..] else { panic!("{:#?}", proof.faults) };
    assert_eq!(fault.finding.rule, "prove.order");
    assert_eq!(fault.program.as_deref(), Some("3-deepen.ngc"));
    assert!(fault.line.is_some() && fault.at.is_some() && fault.count > 1, "{fault:?}");
    assert!(fault.finding.advised().contains("expects wood that 2-widen.ngc takes"), "{fault:?}");
    // Down to −20 where nothing has been cut: 20 mm, more than one step.
    assert_eq!(fault.finding.measured.value, 20.0);
    assert_eq!(fault.finding.limit.value, 4.0);
}

#[test]
fn too_much_wood_a_minute() {
    // 3 mm off the left wall until a last lap at full depth: 3 × 27 mm² at 1200 mm/min are
    // 97.2 cm³/min, where a slot of 12 × 4.05 mm at 1500 mm/min makes 72.9.
    let wide = Setup { skim: 3.0, ..setup() };
    let finish = "\nG0 Z8\nG0 X30 Y40\nG1 Z-27 F400\nG1 X-8 Y40 F1200\nY88\nX108\nY-10\nX-8\nY40\nX30\nG0 Z8\nM5";
    for (feed, expected) in [("F1200", vec!["prove.load"]), ("F880", vec![])] {
        let mut texts = programs(WIDTH, HEIGHT);
        for text in &mut texts {
            text.1 = text.1.replace("X-8 ", "X-5 ").replace("X-8\n", "X-5\n");
        }
        texts[2].1 = texts[2].1.replace("\nG0 Z8\nM5", &finish.replace("F1200", feed));
        let proof = proof(&texts, &frame(WIDTH, HEIGHT), &wide);
        assert_eq!(rules(&proof), expected, "{feed}");
        if let Some(fault) = proof.faults.first() {
            assert!((fault.finding.measured.value - 97.2).abs() < 1e-6, "{fault:?}");
            assert!((fault.finding.limit.value - 72.9).abs() < 1e-6, "{fault:?}");
            assert!(fault.finding.advised().contains("900 mm/min"), "{fault:?}");
        }
    }
}

#[test]
fn too_thick_a_chip() {
    // 5 of 12 mm at 1200 mm/min, two edges: 1200/(2 S) · 2√(5/12 · 7/12) mm is 0.204 at S2900.
    assert_eq!(planted(1, "S18000", "S2900"), ["prove.chip"]);
    assert_eq!(planted(1, "S18000", "S3000"), CLEAN);
    let one_edge = Setup { flutes: 1, ..setup() };
    assert_eq!(planted_in(&one_edge, 1, "S18000", "S5800"), ["prove.chip"]);
    assert_eq!(planted_in(&one_edge, 1, "S18000", "S6000"), CLEAN);
}

#[test]
fn a_finishing_cut_may_be_deep_but_not_wide() {
    let skim = Setup { skim: 0.5, ..setup() };
    // Stay 0.5 mm off the left wall until the last lap of all, which takes it at full depth.
    let finish = "\nG0 Z8\nG0 X30 Y40\nG1 Z-27 F400\nG1 X-8 Y40 F1200\nY88\nX108\nY-10\nX-8\nY40\nX30\nG0 Z8\nM5";
    for (off, expected) in [("-7.5", vec![]), ("-7", vec!["prove.step"])] {
        let mut texts = programs(WIDTH, HEIGHT);
        for text in &mut texts {
            text.1 =
                text.1.replace("X-8 ", &format!("X{off} ")).replace("X-8\n", &format!("X{off}\n"));
        }
        texts[2].1 = texts[2].1.replace("\nG0 Z8\nM5", finish);
        assert_eq!(rules(&proof(&texts, &frame(WIDTH, HEIGHT), &skim)), expected, "{off}");
        assert_eq!(rules(&proof(&texts, &frame(WIDTH, HEIGHT), &setup())), ["prove.step"]);
    }
}

#[test]
fn plunging_into_wood() {
    assert_eq!(
        planted(1, "G1 Z-4 F400\nG1 X-8 F1200", "G1 X-8 F1200\nG1 Z-4 F400\nF1200"),
        ["prove.plunge"]
    );
    // The limit is 5°: 4 mm in 45.7 mm.
    let ramp = |to: &str| format!("G1 X-8 F1200\nG1 Z0 F400\nG1 Y{to} Z-4\nY40\nF1200");
    assert_eq!(planted(1, "G1 Z-4 F400\nG1 X-8 F1200", &ramp("70")), ["prove.plunge"]);
    assert_eq!(planted(1, "G1 Z-4 F400\nG1 X-8 F1200", &ramp("85")), ["prove.plunge"]);
    assert_eq!(planted(1, "G1 Z-4 F400\nG1 X-8 F1200", &ramp("86")), CLEAN);
}

#[test]
fn feeds() {
    assert_eq!(planted(1, "F1200", "F1501"), ["prove.feed"]);
    assert_eq!(planted(1, "F1200", "F1500"), CLEAN);
    assert_eq!(planted(1, "F400", "F401"), ["prove.feed"]);
    assert_eq!(planted(1, "F1200", "F0"), ["prove.feed"]);
    assert_eq!(planted(1, "G1 X30 Y40 F1200", "G1 X30 Y40"), ["prove.feed"]);
}

#[test]
fn spindle() {
    assert_eq!(planted(1, "S18000 M3\n", "S18000\n"), ["prove.end", "prove.spindle"][1..]);
    assert_eq!(planted(1, "S18000 M3", "S18000 M4"), ["prove.spindle"]);
    assert_eq!(planted(1, "S18000 M3", "M3"), ["prove.spindle"]);
    assert_eq!(planted(1, "S18000 M3", "S500 M3"), ["prove.spindle"]);
    assert_eq!(planted(1, "S18000 M3", "S30000 M3"), ["prove.spindle"]);
    assert_eq!(planted(1, "G1 Z-12 F400", "M5\nG1 Z-12 F400\nM3"), ["prove.spindle"]);
    // An air run must stay out of the wood.
    assert_eq!(planted(0, "G0 X100", "G1 Z2 F100\nG0 Z8\nG0 X100"), CLEAN);
    let low = planted(0, "G0 X100", "G1 Z-1 F100\nG1 X100");
    assert!(low.contains(&"prove.spindle"), "{low:?}");
}

#[test]
fn beginning_and_end() {
    assert_eq!(planted(1, "G0 Z8\nS18000", "G0 Z7\nG0 Z8\nS18000"), ["prove.start"]);
    assert_eq!(planted(1, "G0 Z8\nS18000", "S18000"), ["prove.start"]);
    assert_eq!(planted(1, "G0 Z8\nM5\nM2", "M5\nM2"), ["prove.end"]);
    assert_eq!(planted(1, "M5\nM2", "M2"), ["prove.end"]);
    assert_eq!(planted(1, "M2\n", ""), ["prove.end"]);
    assert_eq!(planted(1, "M2\n", "M30\n"), CLEAN);
    assert_eq!(
        planted(1, "G1 X-8 F1200\n", "G1 X-8 F1200\nM0\n"),
        ["prove.pause", "prove.spindle"]
    );
    assert_eq!(planted(1, "S18000", "M0\nS18000"), CLEAN);
}

#[test]
fn bed() {
    // The paths span 116 by 98 mm.
    let travel = |x, y| Setup { travel: [x, y], ..setup() };
    assert_eq!(planted_in(&travel(115.9, 500.0), 1, "G21", "G21"), ["prove.bed"]);
    assert_eq!(planted_in(&travel(500.0, 97.9), 1, "G21", "G21"), ["prove.bed"]);
    assert_eq!(planted_in(&travel(116.0, 98.0), 1, "G21", "G21"), CLEAN);
    let area = kurbo::Rect::new(-8.0, -10.0, 107.0, 100.0);
    let placed = Setup { bed_area: Some(area), ..setup() };
    assert_eq!(planted_in(&placed, 1, "G21", "G21"), ["prove.bed"]);
}

#[test]
fn reach() {
    let short = Setup { cutting_length: 26.0, ..setup() };
    assert_eq!(planted_in(&short, 1, "G21", "G21"), ["prove.reach"]);
    // A thinner shank does not rub.
    let relieved = Setup { shank_diameter: 8.0, ..short };
    assert_eq!(planted_in(&relieved, 1, "G21", "G21"), CLEAN);
}

#[test]
fn words_and_arcs() {
    assert_eq!(planted(1, "G90", "G90 G64"), ["prove.word"]);
    assert_eq!(planted(1, "G90 ", ""), ["prove.state"]);
    // A bow outwards between the ends of a straight side of 50 mm: 0.04 mm high, then 0.1 mm.
    assert_eq!(planted(1, "\nX-8\nY40", "\nX-8\nG2 Y40 R7812.55\nG1"), CLEAN);
    assert_eq!(planted(1, "\nX-8\nY40", "\nX-8\nG2 Y40 R3125.05\nG1"), ["prove.gouge"]);
    assert_eq!(planted(1, "\nX-8\n", "\nG2 X-8 R3\nG1\n"), ["prove.arc"]);
}

#[test]
fn units_and_planes_confused() {
    assert!(planted(1, "G21", "G20").contains(&"prove.bed"));
    assert_eq!(planted(1, "G17", "G18"), ["prove.word"]);
    assert!(planted(1, "G90", "G91").contains(&"prove.state"));
}

#[test]
fn nonsense_settings_are_refused() {
    let wrong = Setup { cutter_diameter: f64::NAN, ..setup() };
    assert_eq!(planted_in(&wrong, 1, "G21", "G21"), ["prove.setup"]);
}

// The air run goes from 0 to 100 by 80 of its own zero, wherever that lies on the sash.
#[test]
fn travel_is_judged_in_the_place_of_a_program_and_cuts_in_the_sash() {
    let texts = programs(WIDTH, HEIGHT);
    let (name, air) = &texts[0];
    let place = |origin| Placement { origin, turned: false };
    let at = |x: f64| Program { place: place([x, 0.0]), ..Program::new(name, air) };
    let area = kurbo::Rect::new(-1.0, -1.0, 101.0, 81.0);
    let tight = Setup { bed_area: Some(area), travel: [102.0, 82.0], ..setup() };
    let beds = |programs: &[Program], setup: &Setup| {
        let proof = prove(programs, &frame(WIDTH, HEIGHT), setup);
        proof.findings().filter(|finding| finding.rule == "prove.bed").count()
    };
    assert_eq!(beds(&[at(0.0), at(500.0)], &tight), 0);
    let shorter = Setup { travel: [99.0, 82.0], ..tight };
    assert!(beds(&[at(500.0)], &shorter) > 0);
    let off = |origin| {
        let placed = |(name, text)| Program { place: place(origin), ..Program::new(name, text) };
        let programs: Vec<Program> = texts.iter().map(|(n, t)| placed((*n, t.as_str()))).collect();
        rules(&prove(&programs, &frame(WIDTH, HEIGHT), &setup()))
    };
    assert_eq!(off([0.0, 0.0]), CLEAN);
    assert!(off([1.0, 0.0]).contains(&"prove.gouge"));
    assert_eq!(off([f64::NAN, 0.0]), ["prove.setup"]);
}

#[test]
fn the_clean_cut_of_a_full_sash_is_proven_and_measured() {
    let (width, height) = (820.0, 930.0);
    let rebate = frame(width, height);
    let proof = proof(&programs(width, height), &rebate, &setup());
    assert_eq!(proof.faults, [], "{:#?}", proof.faults);
    assert!(proof.is_proven());

    // Waste in a corner: R²(1 − π/4) and R(√2 − 1); R 6: 7.7257 mm², 2.4853 mm.
    assert_eq!(proof.chisel.len(), 4);
    for chisel in &proof.chisel {
        assert_relative_eq!(chisel.expected_area, 36.0 * (1.0 - PI / 4.0), epsilon = 1e-9);
        assert_relative_eq!(chisel.area, chisel.expected_area, epsilon = 0.02);
        assert_relative_eq!(chisel.expected_diagonal, 2.4853, epsilon = 1e-4);
        assert_relative_eq!(chisel.diagonal.unwrap(), chisel.expected_diagonal, epsilon = 1e-9);
        assert_eq!(chisel.needed, chisel.at[1] < 0.0);
    }

    // All that must go has gone, but for the fillets.
    let fillets = 4.0 * 36.0 * (1.0 - PI / 4.0) * 27.0;
    let must_go = 27.0 * (848.0 * 960.0 - 838.0 * 948.0) + 10.0 * (838.0 * 948.0 - 820.0 * 930.0);
    assert_relative_eq!(proof.volumes.must_go, must_go, epsilon = 1e-6);
    assert_relative_eq!(proof.volumes.gone, must_go - fillets, epsilon = 1.0);
    assert_eq!(proof.volumes.stay_gone, 0.0);
    assert!(proof.margins.side.as_ref().unwrap().distance.abs() < 1e-9);
    assert_eq!(proof.margins.floor.as_ref().unwrap().distance, 0.0);
    assert_relative_eq!(proof.margins.tallest_step, 4.0);
    // Two rings at 1200 mm/min, some 3.6 m each: about three minutes a lap.
    assert!((30.0..40.0).contains(&proof.minutes()), "{}", proof.minutes());
    assert!(proof.rows < 2500, "{}", proof.rows);
}

#[test]
fn equal_input_gives_an_equal_proof_that_serialises() {
    let rebate = frame(100.0, 80.0);
    let texts = programs(100.0, 80.0);
    let (a, b) = (proof(&texts, &rebate, &setup()), proof(&texts, &rebate, &setup()));
    assert_eq!(a, b);
    let json = serde_json::to_string(&a).unwrap();
    assert_eq!(json, serde_json::to_string(&b).unwrap());
    assert!(json.contains("\"swept\":true"));
    assert!(!a.map.strips.is_empty());
}

/// The frame is 45 mm thick: in its opening too the cutter must stay above the bed, but for a board that may
/// be cut into.
#[test]
fn no_move_goes_below_the_sash() {
    let dip = |z: &str| {
        let down = format!("G1 X30 Y40 F1200\nG1 Z{z} F400\nG1 Z-4 F400\n");
        move |floor| {
            planted_in(&Setup { floor, ..setup() }, 1, "G1 X30 Y40 F1200\nG1 Z-4 F400\n", &down)
        }
    };
    assert_eq!(dip("-100")(None), CLEAN);
    assert_eq!(dip("-100")(Some(-45.0)), ["prove.floor"]);
    assert_eq!(dip("-45.06")(Some(-45.0)), ["prove.floor"]);
    assert_eq!(dip("-45.04")(Some(-45.0)), CLEAN);
    assert_eq!(dip("-51")(Some(-45.0 - 6.0)), CLEAN);
}

/// 18000 turns and two edges: F1200 makes chips of 0.033 mm, F1 of 0.00003; a second on the spot scorches.
#[test]
fn heat() {
    let warm = Setup { least_chip: 0.03, ..setup() };
    let hot = |from: &str, to: &str| planted_in(&warm, 1, from, to);
    assert_eq!(hot("G21", "G21"), CLEAN);
    assert_eq!(hot("G1 X-8 F1200", "G1 X-8 F1"), ["prove.heat"]);
    assert_eq!(hot("G1 X-8 F1200\n", "G1 X-8 F1200\nG4 P3\n"), ["prove.heat"]);
    assert_eq!(hot("G1 X-8 F1200\n", "G1 X-8 F1200\nG4 P0.9\n"), CLEAN);
    // In the opening, or high, it scorches nothing.
    assert_eq!(hot("G1 Z-4 F400\n", "G1 Z-4 F400\nG4 P3\n"), CLEAN);
    assert_eq!(hot("G0 X30 Y40\n", "G0 X30 Y40\nG4 P3\n"), CLEAN);
    // Half the feed rubs, and is told without a stop.
    let mut texts = programs(WIDTH, HEIGHT);
    texts[1].1 = texts[1].1.replace("F1200", "F600");
    let proof = proof(&texts, &frame(WIDTH, HEIGHT), &warm);
    assert!(proof.is_proven(), "{:#?}", proof.faults);
    assert!(proof.cautions.iter().any(|caution| caution.finding.rule == "prove.heat"));
    assert_eq!(proof.verdict(), crate::finding::Verdict::Caution);
}

/// A head is held against sash, cutter and place; without one the programs are judged, and what was taken for
/// granted is said.
#[test]
fn the_head_is_held_against_the_survey() {
    let named = Setup { sash: "kitchen-1".into(), ..setup() };
    let with = |head: &str| {
        let mut texts = programs(WIDTH, HEIGHT);
        texts[1].1 = format!("{head}{}", texts[1].1);
        proof(&texts, &frame(WIDTH, HEIGHT), &named)
    };
    assert_eq!(
        rules(&with(
            "(- sash kitchen-1)\n(- zero at X 0 Y 0)\n(- cutter 12 mm - 2 edges - flat end)\n"
        )),
        CLEAN
    );
    let other = with("(- sash back-bed)\n");
    assert!(!other.swept && rules(&other) == ["prove.head"]);
    assert!(other.faults[0].finding.advised().starts_with("This is a program of back-bed"));
    assert_eq!(rules(&with("(- cutter 10 mm - 2 edges - flat end)\n")), ["prove.head"]);
    assert_eq!(rules(&with("(- cutter 12 mm - 3 edges - flat end)\n")), ["prove.head"]);
    assert_eq!(rules(&with("(- stage air run)\n")), ["prove.head"]);
    assert!(rules(&with("(- zero at X 1 Y 0)\n")).contains(&"prove.gouge"));
    let bare = with("");
    assert!(bare.is_proven());
    assert!(
        bare.assumed
            .iter()
            .any(|taken| taken.to_string().contains("for kitchen-1: its head does not say"))
    );
    assert!(
        bare.assumed
            .iter()
            .any(|taken| taken.to_string().contains("lower left corner of the sight"))
    );
}
