//! Whole programs through the reader.

use super::*;
use crate::geometry::Edge;
use crate::prove::motion::Pace;
use approx::assert_relative_eq;
use kurbo::Point;
use proptest::prelude::*;

const HEAD: &str = "G21 G90 G17\nG0 Z8\nG0 X0 Y0\n";

/// Rules refused by `body` after a sound beginning.
fn refused(body: &str) -> Vec<&'static str> {
    let text = format!("{HEAD}{body}\nM2\n");
    read(&text).refusals.iter().map(|refusal| refusal.rule).collect()
}

#[test]
fn a_plain_program_reads_into_moves() {
    let text =
        format!("{HEAD}M3 S18000\nF600\nG1 Z-2\nX10\nG3 X20 Y10 I0 J10 F300\nG0 Z8\nM5\nM30\n");
    let read = read(&text);
    assert_eq!(read.refusals, []);
    assert_eq!(read.raises, [(2, 8.0)]);
    let moves = &read.moves;
    assert_eq!(moves.len(), 5);
    assert!(moves[0].arrival && moves[0].is_upright());
    assert_eq!((moves[1].pace, moves[1].to_z), (Pace::Feed(600.0), -2.0));
    assert_eq!(moves[2].path, Edge::line(Point::ZERO, Point::new(10.0, 0.0)));
    assert_eq!(moves[2].spindle, Spindle::Clockwise(18000.0));
    assert_eq!(moves[3].pace, Pace::Feed(300.0));
    assert_relative_eq!(moves[3].path.length(), 10.0 * std::f64::consts::FRAC_PI_2);
    assert_eq!(read.end, Some(End { line: 11, z: Some(8.0), spindle: Spindle::Still }));
}

// The same cut in inches, incremental, lower case, numbered, with both kinds of comment.
#[test]
fn dialects_of_one_cut_agree() {
    let plain = "G21 G17 G90\nG0 Z25.4\nG0 X25.4 Y0\nF254\nG1 Z-2.54\nG1 X50.8\nG2 X50.8 Y-50.8 I0 J-25.4\nG0 Z25.4\nM2\n";
    let other = "%\r\nn10 g20 g17 g90 (inches)\r\nn20 g0 z1. ; up\r\nn30 g00 x1 y0\r\nn35 f 10\r\nn40 g91\r\n\
        n50 g01 z - 1.1\r\nn60 x+1\r\nn70 g91.1 g02 y-2.0 r1\r\nn80 g90 g0 z1\r\nn90 m02\r\n%\r\n";
    let (a, b) = (read(plain), read(other));
    assert_eq!((&a.refusals, &b.refusals), (&vec![], &vec![]));
    assert_eq!(a.moves.len(), b.moves.len());
    for (a, b) in a.moves.iter().zip(&b.moves) {
        assert!((a.path.end() - b.path.end()).hypot() < 1e-9);
        assert!((a.path.at(0.5) - b.path.at(0.5)).hypot() < 1e-6, "{a:?} {b:?}");
        assert_relative_eq!(a.to_z, b.to_z, epsilon = 1e-9);
        assert_eq!(std::mem::discriminant(&a.pace), std::mem::discriminant(&b.pace));
    }
}

#[test]
fn what_was_never_said_is_not_assumed() {
    let first = |text: &str| read(text).refusals.first().map(|refusal| refusal.rule);
    assert_eq!(first("G90 G17\nG0 Z8\n"), Some("prove.state"));
    assert_eq!(first("G21 G17\nG0 Z8\n"), Some("prove.state"));
    assert_eq!(first("G21 G90\nG0 Z8\n"), Some("prove.state"));
    assert_eq!(first("G21 G90 G17\nZ8\n"), Some("prove.state"));
    assert_eq!(first("G21 G91 G17\nG0 Z8\n"), Some("prove.state"));
    assert_eq!(first("G90 G17\nF100\nG21\n"), Some("prove.state"));
    assert_eq!(first("G21 G90 G17 F100\n"), Some("prove.state"));
    assert_eq!(first("G21 G90 G17\nG0 X1 Y1\n"), Some("prove.start"));
    assert_eq!(first("G21 G90 G17\nG0 Z8\nG0 X1\n"), Some("prove.start"));
    assert_eq!(first("G21 G90 G17\nG0 Z8\nG1 X1 Y1\n"), Some("prove.start"));
    assert_eq!(first("G21 G90 G17\nG0 Z8\nG0 X1 Y1 Z2\n"), Some("prove.start"));
    assert_eq!(first("G21 G90 G17\nG0 Z8\nG2 X1 Y1 I5\n"), Some("prove.arc"));
    assert_eq!(first(HEAD), None);
}

#[test]
fn a_change_of_units_forgets_the_feed() {
    let text = format!("{HEAD}F600\nG20\nG1 X1\nM2\n");
    assert_eq!(read(&text).moves[1].pace, Pace::Feed(0.0));
}

#[test]
fn defects_are_refused_by_rule() {
    for (body, rule) in [
        ("G91.12 X1", "prove.word"),
        ("O100", "prove.word"),
        ("G1 X1e3", "prove.word"),
        ("G0 X1 X2", "prove.word"),
        ("/G0 X1", "prove.word"),
        ("#1=5", "prove.word"),
        ("G0 X[1+2]", "prove.word"),
        ("G0 X1\rY2", "prove.word"),
        ("G81 X1 Z-3 R1", "prove.word"),
        ("T1\nT2", "prove.word"),
        ("F-5", "prove.word"),
        ("S-5", "prove.word"),
        ("G0 X2000000", "prove.word"),
        ("G0 X1 I5", "prove.word"),
        ("%", "prove.word"),
        ("G80\nX5", "prove.state"),
        ("G2 X10 Y0", "prove.arc"),
        ("G2 I5", "prove.arc"),
        ("G2", "prove.arc"),
        ("G2 X10.003 I5", "prove.arc"),
        ("G2 X10 R4.9", "prove.arc"),
        ("G2 X0 Y0 R5", "prove.arc"),
        ("G2 X10 I5\nX20", "prove.arc"),
        ("M2\nG0 X5", "prove.end"),
    ] {
        assert_eq!(refused(body).first(), Some(&rule), "{body}");
    }
    for sound in
        ["G2 X10.0015 I5", "G40 G49 G54 G80 G94", "G4 P0.5", "(x) M0", "N5", "T1\nT1", "G0"]
    {
        assert_eq!(refused(sound), Vec::<&str>::new(), "{sound}");
    }
}

#[test]
fn all_wrong_words_are_told_at_once_with_their_lines() {
    let text = format!("{HEAD}G18\nG0 X5 A1\nG41 G64\nM2\n");
    let lines: Vec<usize> = read(&text).refusals.iter().map(|refusal| refusal.line).collect();
    assert_eq!(lines, [4, 5, 6, 6]);
}

#[test]
fn the_end_is_known_or_missing() {
    assert_eq!(read(HEAD).end, None);
    let text = format!("{HEAD}S1 M3\nG0 Z9 M2\n");
    assert_eq!(
        read(&text).end,
        Some(End { line: 5, z: Some(9.0), spindle: Spindle::Clockwise(1.0) })
    );
    assert_eq!(refused("M2\n%\n%").first(), Some(&"prove.word"));
}

proptest! {
    #[test]
    fn random_text_never_panics(text in "\\PC{0,200}") {
        read(&text);
    }

    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        read(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn random_words_never_panic(body in "([GMXYZIJRFSTNP][ -]?[0-9]{1,3}(\\.[0-9]{1,3})?[ \n]){0,40}") {
        let read = read(&format!("{HEAD}{body}"));
        for mv in &read.moves {
            let bounds = mv.path.bounds();
            prop_assert!(bounds.x0.is_finite() && bounds.y1.is_finite() && mv.to_z.is_finite());
        }
    }
}
