//! Slanting and curved bars stand in the daylight, are held at both ends, and leave lights between them.

use super::sight::Daylight;
use crate::geometry::{COINCIDENT, Edge, Outline, Region, distance_between};
use crate::input::{Place, Reader, show};
use crate::survey::tolerance::{LEAST_LIGHT, ON_BAR, ON_FRAME};
use crate::survey::values::{Bar, Course, Runs};
use kurbo::{Point, Rect};

/// Steps along a bar at which its distance from the sight edges is looked at.
const STEPS: u32 = 400;
const TOUCHES: &str = "it runs along a sight edge or another bar, or only just touches it";

/// Whether every bar of its own course is held; notes why not. `places` are the bars' tables.
pub(super) fn held(
    bars: &[Bar],
    places: &[&Place],
    sight: &Daylight,
    reader: &mut Reader<'_>,
) -> bool {
    if bars.iter().all(|bar| bar.course == Course::Through) {
        return true;
    }
    // What is wrong with the daylight has been noted.
    let (Some(width), Some(height)) = (&sight.width, &sight.height) else { return false };
    let rect = Rect::new(0.0, 0.0, width.value, height.value);
    let outline = sight.outline.as_ref().map(|sided| sided.outline().clone());
    let Some(daylight) = outline.or_else(|| Outline::rectangle(rect).ok()) else { return false };
    let paths: Vec<Edge> = bars.iter().map(|bar| path(bar, &daylight)).collect();
    let mut sound = true;
    for ((index, bar), place) in bars.iter().enumerate().zip(places) {
        let Course::Between(edge) = bar.course else { continue };
        if let Err((expected, hint)) = one(index, &edge, bars, &paths, &daylight) {
            reader.contradict(place, expected, hint);
            sound = false;
        }
    }
    let floating = if sound { floating(bars, &paths, &daylight) } else { None };
    if let Some(place) = floating.and_then(|index| places.get(index)) {
        let expected = "a bar that the frame holds, itself or by the bars it ends on";
        reader.contradict(
            place,
            expected.to_owned(),
            "these bars hold each other, and nothing them",
        );
        sound = false;
    }
    sound && leave_lights(bars, &paths, places, &daylight, reader)
}

/// The centre line of a bar, run on behind the sight edges.
fn path(bar: &Bar, daylight: &Outline) -> Edge {
    bar.course.run_on(daylight).unwrap_or_else(|| {
        let all = daylight.bounds();
        let (low, high) = (bar.centre - bar.lean / 2.0, bar.centre + bar.lean / 2.0);
        match bar.runs {
            Runs::Upright => Edge::line(Point::new(low, all.y0), Point::new(high, all.y1)),
            Runs::Cross => Edge::line(Point::new(all.x1, high), Point::new(all.x0, low)),
        }
    })
}

/// What is wrong with a single bar: what was expected, and a hint.
fn one(
    index: usize,
    edge: &Edge,
    bars: &[Bar],
    paths: &[Edge],
    daylight: &Outline,
) -> Result<(), (String, &'static str)> {
    let Some(bar) = bars.get(index) else { return Ok(()) };
    let tightest = bar.width / 2.0 + LEAST_LIGHT;
    if let Edge::Arc(arc) = edge
        && arc.radius < tightest
    {
        let expected = format!(
            "a curve with a radius of at least {} mm for a bar this wide; it has {} mm",
            show(tightest),
            show(arc.radius)
        );
        return Err((expected, "a flatter bar has less rise"));
    }
    let inside = daylight.stretches_inside(edge);
    if inside.iter().map(Edge::length).sum::<f64>() < LEAST_LIGHT {
        return Err((
            "a bar that stands in the daylight".to_owned(),
            "x counts from the left sight edge, y from the lower one",
        ));
    }
    if inside.len() > 1 {
        let expected = "a bar that leaves the daylight nowhere between its ends";
        return Err((expected.to_owned(), "give its pieces as bars of their own"));
    }
    // Run on behind the sight edge it must be gone, with both flanks: an arch that springs from a jamb as the jamb runs
    // comes back.
    let back = paths.get(index).is_some_and(|path| comes_back(path, edge, bar.width, daylight));
    if back {
        let expected = "a bar that leaves the daylight where it ends";
        return Err((expected.to_owned(), "it meets the sight edge too flat: give it less rise"));
    }
    if inside.iter().any(|piece| has_neck(piece, bar.width, daylight))
        || too_near(index, bars, paths, daylight)
    {
        let expected = format!(
            "a bar with at least {} mm of light beside it all along",
            show(LEAST_LIGHT - ON_FRAME)
        );
        return Err((expected, TOUCHES));
    }
    for (end, name) in [(edge.start(), "begins"), (edge.end(), "ends")] {
        let on_frame = !daylight.contains(end) || daylight.distance_to(end) <= ON_FRAME;
        let mut others = bars.iter().zip(paths).enumerate().filter(|(other, _)| *other != index);
        let on_bar = others.any(|(_, (other, path))| path.distance_to(end) <= ON_BAR * other.width);
        if !on_frame && !on_bar {
            let expected = format!(
                "a bar that {name} on a sight edge or on the centre line of another bar, not at [{}, {}]",
                show(end.x),
                show(end.y)
            );
            return Err((expected, "measure to the centre line of the bar that it ends on"));
        }
    }
    Ok(())
}

/// Whether a bar is in the daylight beyond its ends on the sight edge: its centre line by more than its width, or a flank by
/// more than two, as one does that meets the edge at less than 14 degrees (tan 14° = 1/4).
fn comes_back(path: &Edge, edge: &Edge, width: f64, daylight: &Outline) -> bool {
    let ends = [edge.start(), edge.end()].map(|end| path.nearest(end));
    let (from, to) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let lines = [(0.0, width), (width / 2.0, 2.0 * width), (-width / 2.0, 2.0 * width)];
    lines.into_iter().any(|(across, most)| {
        let Some(line) = path.shifted(across) else { return true };
        let beyond = [line.part(0.0, from), line.part(to, 1.0)];
        beyond.iter().any(|piece| daylight.length_inside(piece) > most)
    })
}

/// Whether a bar that has left the sight edge comes too near to one before it ends there: at its crown,
/// say.
fn has_neck(piece: &Edge, width: f64, daylight: &Outline) -> bool {
    let steps = STEPS;
    let clear = |step: u32| {
        let at = piece.at(f64::from(step) / f64::from(steps));
        daylight.distance_to(at) - width / 2.0
    };
    let all: Vec<f64> = (0..=steps).map(clear).collect();
    let so_far = |values: &mut dyn Iterator<Item = &f64>| {
        let mut most = f64::NEG_INFINITY;
        values
            .map(|value| {
                most = most.max(*value);
                most
            })
            .collect::<Vec<f64>>()
    };
    let before = so_far(&mut all.iter());
    let mut after = so_far(&mut all.iter().rev());
    after.reverse();
    let least = LEAST_LIGHT - ON_FRAME;
    // One that never leaves the sight edge runs along it.
    if all.iter().all(|clear| *clear < least) {
        return true;
    }
    let mut places = all.iter().zip(before.iter().zip(&after));
    places.any(|(clear, (before, after))| *clear < least && before.min(*after) > least)
}

/// Whether a bar runs by another without meeting it, but leaves no light between them.
fn too_near(index: usize, bars: &[Bar], paths: &[Edge], daylight: &Outline) -> bool {
    let inside = |path: &Edge| daylight.stretches_inside(path);
    let (Some(own), Some(path)) = (bars.get(index), paths.get(index)) else { return false };
    let own_pieces = inside(path);
    let mut others = bars.iter().zip(paths).enumerate().filter(|(other, _)| *other != index);
    others.any(|(_, (other, path))| {
        let pieces = inside(path);
        let pairs = own_pieces.iter().flat_map(|a| pieces.iter().map(move |b| (a, b)));
        let apart = pairs.map(|(a, b)| distance_between(a, b)).fold(f64::INFINITY, f64::min);
        let met = apart <= ON_BAR * own.width.max(other.width);
        !met && apart < f64::midpoint(own.width, other.width) + LEAST_LIGHT - ON_FRAME - COINCIDENT
    })
}

/// The first bar that is tied to the frame neither itself nor through others.
fn floating(bars: &[Bar], paths: &[Edge], daylight: &Outline) -> Option<usize> {
    let meets_frame =
        |path: &Edge| daylight.edges().iter().any(|own| distance_between(own, path) <= ON_FRAME);
    let mut tied: Vec<bool> = paths.iter().map(meets_frame).collect();
    // Each round ties one more bar at least, or nothing more can be.
    for _ in bars {
        let reached: Vec<bool> = paths
            .iter()
            .zip(&tied)
            .map(|(path, own)| {
                let others = bars.iter().zip(paths).zip(&tied).filter(|(_, tied)| **tied);
                *own || others
                    .map(|((bar, other), _)| (bar.width * ON_BAR, other))
                    .any(|(near, other)| distance_between(path, other) <= near)
            })
            .collect();
        tied = reached;
    }
    tied.iter().position(|tied| !tied)
}

/// Whether the bars leave lights of some width everywhere: one that runs along a sight edge or another
/// bar, or only just touches it, leaves a splinter.
fn leave_lights(
    bars: &[Bar],
    paths: &[Edge],
    places: &[&Place],
    daylight: &Outline,
    reader: &mut Reader<'_>,
) -> bool {
    let mut open = vec![Region::solid(daylight.clone())];
    for ((bar, path), place) in bars.iter().zip(paths).zip(places) {
        let strip = path.strip(bar.width).ok().map(Region::solid);
        let divided = strip.and_then(|strip| {
            let left: Result<Vec<_>, _> =
                open.iter().map(|region| region.difference(&strip)).collect();
            left.ok()
        });
        let Some(left) = divided else {
            reader.contradict(place, "a bar that divides the daylight clearly".to_owned(), TOUCHES);
            return false;
        };
        open = left.into_iter().flatten().collect();
    }
    let found = open.iter().find_map(|light| {
        let (middle, deep) = light.outline.deepest_inside();
        let sound = light.holes.is_empty() && 2.0 * deep >= LEAST_LIGHT - ON_FRAME;
        (!sound).then_some(middle)
    });
    let Some(at) = found else { return true };
    // Bars that run through have been held against each other already: one of the others is to blame.
    let own =
        bars.iter().zip(paths).zip(places).filter(|((bar, _), _)| bar.course != Course::Through);
    let nearest =
        own.min_by(|((_, a), _), ((_, b), _)| a.distance_to(at).total_cmp(&b.distance_to(at)));
    if let Some((_, place)) = nearest {
        let expected = format!(
            "a bar with at least {} mm of light beside it; not so at [{}, {}]",
            show(LEAST_LIGHT - ON_FRAME),
            show(at.x),
            show(at.y)
        );
        reader.contradict(place, expected, TOUCHES);
    }
    false
}
