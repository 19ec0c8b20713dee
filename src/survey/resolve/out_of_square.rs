//! A sash out of square: from widths, heights and diagonals to its likeliest shape.

use crate::geometry::quadrilateral::{AdjustError, Adjusted, Measured, Span, Verdict, adjust};
use crate::geometry::{PerSide, Sided};
use crate::input::{Optional, Reader, Spanned};
use crate::survey::file::sight::{BowTable, SightTable};
use crate::survey::values::Measures;

/// How far a length may be off if nothing is said, mm: two readings of a tape.
const USUAL_TOLERANCE: f64 = 1.0;

/// Beyond this share of its length no member bends: a middle width that differs by more is a slip of
/// the pen.
const MOST_BOW: f64 = 0.02;

/// Measures that can be true only with so many times their tolerance were not taken from one sash.
const MOST_STRETCH: f64 = 20.0;

/// The likeliest outline and what it rests on; `None` where the reader has noted why.
pub(super) fn measured(
    table: &Spanned<Box<SightTable>>,
    misfit: f64,
    reader: &mut Reader<'_>,
) -> Option<(Sided, Measures)> {
    let needed = [
        (table.widths.is_none(), "widths", "widths at the bottom and at the top, [820, 824]"),
        (table.heights.is_none(), "heights", "heights at the left and at the right, [930, 928]"),
        (
            table.diagonals.is_none(),
            "diagonals",
            "diagonals from the lower left and from the lower right, [1240, 1243]: without them a \
             sash can lean any way",
        ),
    ];
    for (missing, key, about) in needed {
        if missing {
            reader.missing(&table.place, key, about);
        }
    }
    let lengths = lengths(table)?;
    let surveyed = bow(table.bow.as_ref());
    let found = adjust(&less_bow(&lengths, &surveyed)).map(|adjusted| {
        let bow = bow_from_middles(&lengths, &adjusted, &surveyed, misfit);
        (adjusted, bow)
    });
    let found = found.and_then(|(adjusted, bow)| match bow {
        Some(bow) => Ok((adjust(&less_bow(&lengths, &bow))?, bow)),
        None => Ok((adjusted, surveyed)),
    });
    let outline = found
        .map(|(adjusted, bow)| (adjusted.quadrilateral.bowed(&bow), Measures { adjusted, bow }));
    match outline {
        Ok((Ok(outline), measures))
            if !outline.outline().crosses_itself() && measures.adjusted.stretch <= MOST_STRETCH =>
        {
            Some((outline, measures))
        }
        other => {
            let why = match other {
                Err(AdjustError::NoShape) | Ok(_) => "",
                Err(_) => "each must be a length of its own",
            };
            let expected = "widths, heights and diagonals of one four-sided shape".to_owned();
            reader.contradict(&table.place, expected, why);
            None
        }
    }
}

/// Every length with its place and tolerance.
fn lengths(table: &SightTable) -> Option<Vec<Measured>> {
    let tolerance = table.tolerance.value_or(USUAL_TOLERANCE);
    let (widths, heights) = (table.widths.as_ref()?, table.heights.as_ref()?);
    let [rising, falling] = table.diagonals.as_ref()?.value;
    let across = shares(widths).map(|(share, length)| (Span::Across(share), length));
    let up = shares(heights).map(|(share, length)| (Span::Up(share), length));
    let diagonals = [(Span::FromLowerLeft, rising), (Span::FromLowerRight, falling)];
    let all = across.chain(up).chain(diagonals);
    Some(all.map(|(span, length)| Measured { span, length, tolerance }).collect())
}

/// Two lengths stand at both ends, three also in the middle.
fn shares(lengths: &[Spanned<f64>]) -> impl Iterator<Item = (f64, f64)> {
    let last = (lengths.len().max(2) - 1) as f64;
    lengths.iter().enumerate().map(move |(index, length)| (index as f64 / last, length.value))
}

/// Whether the length was taken in the middle, where bowed sides count.
fn is_middle(span: Span) -> bool {
    matches!(span, Span::Across(share) | Span::Up(share) if (share - 0.5).abs() < 0.25)
}

/// What straight sides would measure. A bow is square to its side, which is as good as along the
/// measure: over a lean of five degrees it differs by four thousandths of itself.
fn less_bow(lengths: &[Measured], bow: &PerSide<f64>) -> Vec<Measured> {
    let both = |span| match span {
        Span::Across(_) => bow.left + bow.right,
        _ => bow.bottom + bow.top,
    };
    let straight = |m: &Measured| {
        let length = if is_middle(m.span) { m.length - both(m.span) } else { m.length };
        Measured { length, ..*m }
    };
    lengths.iter().map(straight).collect()
}

/// Where the ends and diagonals agree among themselves but a middle does not agree with them, its two
/// sides are bowed, each by half of the difference. What was surveyed of a bow is left as it is.
fn bow_from_middles(
    lengths: &[Measured],
    adjusted: &Adjusted,
    surveyed: &PerSide<f64>,
    misfit: f64,
) -> Option<PerSide<f64>> {
    if adjusted.verdict(misfit) == Verdict::Agree {
        return None;
    }
    let ends: Vec<Measured> = lengths.iter().filter(|m| !is_middle(m.span)).copied().collect();
    let straight = adjust(&ends).ok().filter(|ends| ends.verdict(misfit) == Verdict::Agree)?;
    let mut bow = *surveyed;
    for m in lengths.iter().filter(|m| is_middle(m.span)) {
        let shape = &straight.quadrilateral;
        let each = (m.length - shape.length(m.span)) / 2.0;
        let (sides, along) = match m.span {
            Span::Across(_) => ([&mut bow.left, &mut bow.right], Span::Up(0.5)),
            _ => ([&mut bow.bottom, &mut bow.top], Span::Across(0.5)),
        };
        let said = sides.iter().any(|side| **side != 0.0);
        let likely = 2.0 * each.abs() > m.tolerance && each.abs() < MOST_BOW * shape.length(along);
        if likely && !said {
            for side in sides {
                *side = each;
            }
        }
    }
    (bow != *surveyed).then_some(bow)
}

/// The bow of each side; straight where nothing is said.
pub(super) fn bow(table: Option<&Spanned<Box<BowTable>>>) -> PerSide<f64> {
    table.map_or_else(PerSide::default, |table| PerSide {
        left: table.left.value_or(0.0),
        right: table.right.value_or(0.0),
        bottom: table.bottom.value_or(0.0),
        top: table.top.value_or(0.0),
    })
}
