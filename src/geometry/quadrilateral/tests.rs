use super::*;
use approx::assert_relative_eq;
use proptest::prelude::*;

/// Every place that a joiner measures: widths and heights at both ends and in the middle, diagonals.
const ALL: [Span; 8] = [
    Span::Across(0.0),
    Span::Across(0.5),
    Span::Across(1.0),
    Span::Up(0.0),
    Span::Up(0.5),
    Span::Up(1.0),
    Span::FromLowerLeft,
    Span::FromLowerRight,
];

/// Those that are needed, and one to spare.
const ENDS: [Span; 6] = [ALL[0], ALL[2], ALL[3], ALL[5], ALL[6], ALL[7]];

fn measure(shape: &Quadrilateral, spans: &[Span]) -> Vec<Measured> {
    let measured = |&span| Measured { span, length: shape.length(span), tolerance: 1.0 };
    spans.iter().map(measured).collect()
}

fn shape(width: f64, height: f64, lean: [f64; 5]) -> Quadrilateral {
    let [b, cx, cy, dx, dy] = lean;
    let corners = [(0.0, 0.0), (width + b, 0.0), (width + cx, height + cy), (dx, height + dy)];
    Quadrilateral { corners: corners.map(Point::from) }
}

/// Quadrilaterals that lean by up to `most` of the smaller side at each corner.
fn shapes(most: f64) -> impl Strategy<Value = Quadrilateral> {
    let lean = prop::array::uniform5(-most..most);
    (200.0..2000.0, 200.0..2000.0, lean).prop_map(|(width, height, lean): (f64, f64, [f64; 5])| {
        shape(width, height, lean.map(|share| share * width.min(height)))
    })
}

fn furthest(a: &Quadrilateral, b: &Quadrilateral) -> f64 {
    a.corners.iter().zip(b.corners).map(|(a, b)| (*a - b).hypot()).fold(0.0, f64::max)
}

#[test]
fn spans_run_where_they_say() {
    let corners = [(0.0, 0.0), (800.0, 0.0), (790.0, 930.0), (-6.0, 920.0)].map(Point::from);
    let shape = Quadrilateral { corners };
    assert_relative_eq!(shape.length(Span::Across(0.0)), 800.0);
    assert_relative_eq!(shape.length(Span::Across(1.0)), 796.0_f64.hypot(10.0));
    assert_relative_eq!(shape.length(Span::Across(0.5)), 798.0_f64.hypot(5.0));
    assert_relative_eq!(shape.length(Span::Up(0.0)), 6.0_f64.hypot(920.0));
    assert_relative_eq!(shape.length(Span::FromLowerLeft), 790.0_f64.hypot(930.0));
    assert_relative_eq!(shape.length(Span::FromLowerRight), 806.0_f64.hypot(920.0));
    assert!(shape.is_convex());
    // The corner at the lower right leans in by 10 in 930.
    assert_relative_eq!(shape.out_of_square(), (10.0_f64 / 930.0).atan(), epsilon = 1e-9);
}

#[test]
fn a_bow_is_an_arc_through_the_middle_and_the_bounds_start_at_zero() {
    let corners = [(0.0, 0.0), (800.0, 0.0), (800.0, 900.0), (0.0, 900.0)].map(Point::from);
    let bow = PerSide { left: 3.0, right: -2.0, bottom: 0.0, top: 0.0 };
    let shape = Quadrilateral { corners }.bowed(&bow).unwrap();
    let bounds = shape.bounds();
    assert_relative_eq!(bounds.x0, 0.0, epsilon = 1e-9);
    assert_relative_eq!(bounds.x1, 803.0, epsilon = 1e-9);
    let middle = |wanted| {
        shape.edges().find(|(_, side)| *side == wanted).map(|(edge, _)| edge.at(0.5)).unwrap()
    };
    assert_relative_eq!(middle(Side::Left).x, 0.0, epsilon = 1e-9);
    assert_relative_eq!(middle(Side::Right).x, 801.0, epsilon = 1e-9);
    assert_relative_eq!(middle(Side::Left).y, 450.0, epsilon = 1e-9);
}

#[test]
fn four_sides_leave_one_freedom_and_a_diagonal_takes_it() {
    let square = shape(800.0, 900.0, [0.0; 5]);
    let four = measure(&square, &ENDS[..4]);
    assert_eq!(adjust(&four), Err(AdjustError::TooFew(1)));
    // More widths and heights do not help: they all move together.
    assert_eq!(adjust(&measure(&square, &ALL[..6])), Err(AdjustError::TooFew(1)));
    let five = adjust(&measure(&square, &ENDS[..5])).unwrap();
    assert_eq!((five.spare, five.worst(), five.stretch), (0, 0.0, 0.0));
    assert!(five.residuals.iter().all(|residual| residual.misfit.is_none()));
    assert_eq!(adjust(&[]), Err(AdjustError::TooFew(5)));
}

#[test]
fn what_is_no_length_or_no_shape_is_refused() {
    let square = shape(800.0, 900.0, [0.0; 5]);
    let mut measured = measure(&square, &ENDS);
    measured[3].length = f64::NAN;
    assert_eq!(adjust(&measured), Err(AdjustError::NotALength(3)));
    measured[3].length = 900.0;
    measured[2].tolerance = 0.0;
    assert_eq!(adjust(&measured), Err(AdjustError::NotALength(2)));
    assert_eq!(adjust(&vec![measured[0]; 17]), Err(AdjustError::TooMany(16)));
    // The upper right corner is pushed in beyond the other diagonal.
    let dart = shape(800.0, 900.0, [0.0, -650.0, -750.0, 0.0, 0.0]);
    assert!(!dart.is_convex());
    assert_eq!(adjust(&measure(&dart, &ENDS)), Err(AdjustError::NoShape));
}

// Linear algebra by hand: of a square with side s the condition that ties the six lengths together
// is Σ diagonals = (Σ sides)/√2, so a diagonal that is off by e is off by e/2 tolerances in every
// measure's misfit: e over √(1 + 1 + 4·½).
#[test]
fn with_one_to_spare_every_misfit_is_the_same() {
    let square = shape(900.0, 900.0, [0.0; 5]);
    let mut measured = measure(&square, &ENDS);
    measured[4].length += 0.01;
    let adjusted = adjust(&measured).unwrap();
    for residual in &adjusted.residuals {
        assert_relative_eq!(residual.misfit.unwrap().abs(), 0.005, epsilon = 1e-5);
    }
    // All six can be true if each is off by e over Σ|weights| = 2 + 4/√2.
    assert_relative_eq!(adjusted.stretch, 0.01 / (2.0 + 8.0_f64.sqrt()), epsilon = 1e-6);
}

#[test]
fn a_wrong_diagonal_of_a_square_sash_is_named_with_its_error() {
    let square = shape(820.0, 930.0, [0.0; 5]);
    for spans in [&ALL[..], &ENDS[..]] {
        for (index, span) in spans.iter().enumerate() {
            let mut measured = measure(&square, spans);
            measured[index].length += 6.0;
            let Verdict::OneWrong(suspects) = adjust(&measured).unwrap().verdict(1.5) else {
                panic!("{span:?} was not noticed")
            };
            assert_eq!(suspects[0].index, index, "{span:?}: {suspects:?}");
            assert_relative_eq!(suspects[0].error, 6.0, epsilon = 1e-6);
        }
    }
}

#[test]
fn two_wrong_measures_are_not_laid_on_one() {
    let square = shape(820.0, 930.0, [0.0; 5]);
    let mut measured = measure(&square, &ALL);
    measured[1].length += 9.0;
    measured[3].length -= 12.0;
    assert_eq!(adjust(&measured).unwrap().verdict(1.5), Verdict::SeveralWrong);
}

proptest! {
    #[test]
    fn exact_lengths_give_the_shape_back(shape in shapes(0.15), all in any::<bool>()) {
        let spans = if all { &ALL[..] } else { &ENDS[..] };
        let adjusted = adjust(&measure(&shape, spans)).unwrap();
        prop_assert!(furthest(&adjusted.quadrilateral, &shape) < 1e-6);
        prop_assert!(adjusted.stretch < 1e-6);
        prop_assert_eq!(adjusted.verdict(1.5), Verdict::Agree);
    }

    // Whatever the noise: no shape nearby has a smaller sum of squares, and where every measure is
    // within its tolerance the tolerances need no stretching.
    #[test]
    fn noise_is_shared_out_best(
        truth in shapes(0.03),
        noise in prop::array::uniform8(-1.0..1.0_f64),
        tolerances in prop::array::uniform8(0.3..3.0_f64),
        nudge in prop::array::uniform5(-1.0..1.0_f64),
    ) {
        let mut measured = measure(&truth, &ALL);
        for ((m, noise), tolerance) in measured.iter_mut().zip(noise).zip(tolerances) {
            m.tolerance = tolerance;
            m.length += noise * tolerance;
        }
        let adjusted = adjust(&measured).unwrap();
        let sum = |shape: &Quadrilateral| -> f64 {
            let off = |m: &Measured| (m.length - shape.length(m.span)) / m.tolerance;
            measured.iter().map(|m| off(m).powi(2)).sum()
        };
        let best = sum(&adjusted.quadrilateral);
        prop_assert!(best <= sum(&truth) + 1e-9);
        for size in [1e-3, 0.1, 5.0] {
            let [_, b, c, d] = adjusted.quadrilateral.corners;
            let [nb, ncx, ncy, ndx, ndy] = nudge.map(|n| n * size);
            let near = Quadrilateral { corners: [
                Point::ZERO,
                Point::new(b.x + nb, 0.0),
                Point::new(c.x + ncx, c.y + ncy),
                Point::new(d.x + ndx, d.y + ndy),
            ] };
            prop_assert!(best <= sum(&near) + 1e-9);
        }
        prop_assert!(adjusted.stretch <= 1.0 + 0.01, "{}", adjusted.stretch);
        let largest = adjusted.residuals.iter().zip(tolerances).map(|(r, t)| r.value.abs() / t);
        prop_assert!(adjusted.stretch <= largest.fold(0.0, f64::max) + 1e-9);
    }

    // One coarse slip among small ones: it is always among the suspects, and of a sash that is nearly
    // square it is the first unless another measure checks nothing else.
    #[test]
    fn a_slip_is_among_the_suspects(
        truth in shapes(0.01),
        noise in prop::array::uniform8(-0.3..0.3_f64),
        which in 0..8_usize,
        slip in prop_oneof![-40.0..-15.0_f64, 15.0..40.0_f64],
    ) {
        let mut measured = measure(&truth, &ALL);
        for (m, noise) in measured.iter_mut().zip(noise) {
            m.length += noise;
        }
        measured[which].length += slip;
        let adjusted = adjust(&measured).unwrap();
        let Verdict::OneWrong(suspects) = adjusted.verdict(1.5) else {
            return Err(TestCaseError::fail("the slip was not laid on one measure"));
        };
        let found = suspects.iter().find(|suspect| suspect.index == which);
        prop_assert!(found.is_some(), "{which}: {suspects:?}");
        prop_assert!((found.unwrap().error - slip).abs() < 3.5, "{found:?}");
    }
}
