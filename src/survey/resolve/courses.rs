//! Where slanting, curved and branching bars run.

use super::sight::Daylight;
use crate::geometry::{Arc, COINCIDENT, Edge, Side};
use crate::input::{Optional, Place, Reader, Spanned, show};
use crate::survey::file::members::{BarTable, Bulges, Running};
use crate::survey::tolerance::{EQUAL_ARCS, LEAST_LIGHT, STRAIGHT};
use crate::survey::values::Course;
use kurbo::Point;
use std::f64::consts::{FRAC_PI_2, PI};

/// The centre lines that a table stands for: one, or of a branching bar its upright and both arcs.
/// `None` where the reader has noted why.
pub(super) fn courses(
    table: &Spanned<Box<BarTable>>,
    daylight: &Daylight,
    reader: &mut Reader<'_>,
) -> Option<Vec<Course>> {
    let runs = table.runs.as_ref()?;
    refuse_strays(table, runs.value, reader);
    match runs.value {
        Running::Through(_) => {
            centre(table, reader)?;
            Some(vec![Course::Through])
        }
        Running::Slanting => {
            let [from, to] = ends(table, reader)?;
            Some(vec![Course::Between(Edge::line(from, to))])
        }
        Running::Curved => Some(vec![Course::Between(curved(table, reader)?)]),
        Running::Branching => {
            let at = centre(table, reader)?;
            let found = head_arcs(daylight).and_then(|head| branches(at, head, daylight));
            if found.is_none() {
                let expected = "a bar under a pointed head, between its springings: only there has it \
                                arcs to branch into";
                let hint = "give other curved bars by their ends and rise";
                reader.contradict(&runs.place, expected.to_owned(), hint);
            }
            Some(found?.into_iter().map(Course::Between).collect())
        }
    }
}

fn centre(table: &Spanned<Box<BarTable>>, reader: &mut Reader<'_>) -> Option<f64> {
    let Some(centre) = &table.centre else {
        reader.missing(
            &table.place,
            "centre",
            "where its centre line lies, mm from the sight edge",
        );
        return None;
    };
    let [near, far] = centre.value;
    Some(f64::midpoint(near, far))
}

/// Both ends of a bar that has them.
fn ends(table: &Spanned<Box<BarTable>>, reader: &mut Reader<'_>) -> Option<[Point; 2]> {
    for (end, key) in [(&table.from, "from"), (&table.to, "to")] {
        if end.is_none() {
            let about =
                "an end of its centre line, [x, y] in mm: on a sight edge or on another bar";
            reader.missing(&table.place, key, about);
        }
    }
    let (from, to) = (table.from.as_ref()?, table.to.as_ref()?);
    let ends = [Point::from((from.value[0], from.value[1])), (to.value[0], to.value[1]).into()];
    if (ends[1] - ends[0]).hypot() < LEAST_LIGHT {
        let expected = format!("an end at least {} mm from the other", show(LEAST_LIGHT));
        reader.contradict(&to.place, expected, "");
        return None;
    }
    Some(ends)
}

/// The arc through both ends, with its rise on the side that it bulges to; a line without a rise.
fn curved(table: &Spanned<Box<BarTable>>, reader: &mut Reader<'_>) -> Option<Edge> {
    let [from, to] = ends(table, reader)?;
    let Some(rise) = &table.rise else {
        let about = "how far its middle lies off the straight line between its ends, mm";
        reader.missing(&table.place, "rise", about);
        return None;
    };
    let chord = to - from;
    let half = chord.hypot() / 2.0;
    if rise.value > half + COINCIDENT {
        let expected = format!("at most {} mm, half the distance of its ends", show(half));
        reader.contradict(&rise.place, expected, "give more than half a circle as two bars");
        return None;
    }
    if rise.value < STRAIGHT {
        return Some(Edge::line(from, to));
    }
    let upright = chord.y.abs() > chord.x.abs();
    let usual = if upright { Bulges::Left } else { Bulges::Up };
    let way = table.bulges.value_or(usual);
    // How far the middle goes that way if the arc bulges to the right of the way from `from` to `to`.
    let right = match way {
        Bulges::Up => -chord.x,
        Bulges::Down => chord.x,
        Bulges::Left => -chord.y,
        Bulges::Right => chord.y,
    };
    if right.abs() <= COINCIDENT {
        let place = table.bulges.as_ref().map_or(&table.place, |bulges| &bulges.place);
        let expected = if upright { "left or right" } else { "up or down" };
        reader.contradict(place, expected.to_owned(), "a bar does not bulge along its own line");
        return None;
    }
    // A bulge that is positive turns left, and lies to the right of its chord.
    let bulge = right.signum() * (rise.value / half).min(1.0);
    Arc::from_bulge(from, to, bulge).map(Edge::Arc)
}

/// The arcs of a pointed head: that over the left springing, and that over the right one.
fn head_arcs(daylight: &Daylight) -> Option<[Arc; 2]> {
    let top: Vec<&Edge> = daylight.outline.as_ref()?.edges_on(Side::Top).collect();
    let [&Edge::Arc(right), &Edge::Arc(left)] = top[..] else { return None };
    let alike = (right.radius - left.radius).abs() <= EQUAL_ARCS
        && (right.centre.y - left.centre.y).abs() <= EQUAL_ARCS;
    (alike && left.centre.x - right.centre.x > -EQUAL_ARCS).then_some([left, right])
}

/// An upright from the foot of the daylight to the springing line, and two arcs from there as far as the
/// daylight reaches: one follows the left arc of the head, moved sideways, the other the right one.
fn branches(at: f64, [left, right]: [Arc; 2], daylight: &Daylight) -> Option<Vec<Edge>> {
    let outline = daylight.outline.as_ref()?.outline();
    let (springing, radius) = (left.centre.y, left.radius);
    let start = Point::new(at, springing);
    if !outline.contains(start) || outline.distance_to(start) < LEAST_LIGHT {
        return None;
    }
    let follow = |head: Arc, turned: f64, sweep: f64| {
        let centre = Point::new(at + head.radius * -turned.cos(), springing);
        let edge = Edge::Arc(Arc { centre, radius, start: turned, sweep });
        let inside = outline.stretches_inside(&edge);
        inside.first().filter(|first| (first.start() - start).hypot() <= EQUAL_ARCS).copied()
    };
    let upright = Edge::line(Point::new(at, outline.bounds().y0), start);
    Some(vec![upright, follow(left, PI, -FRAC_PI_2)?, follow(right, 0.0, FRAC_PI_2)?])
}

/// Notes keys that a bar which runs that way has no use for.
fn refuse_strays(table: &BarTable, runs: Running, reader: &mut Reader<'_>) {
    let between = matches!(runs, Running::Slanting | Running::Curved);
    let keys: [(Option<&Place>, bool, &str); 5] = [
        (table.centre.place(), between, "centre"),
        (table.from.place(), !between, "from"),
        (table.to.place(), !between, "to"),
        (table.rise.place(), runs != Running::Curved, "rise"),
        (table.bulges.place(), runs != Running::Curved, "bulges"),
    ];
    for (place, stray, key) in keys {
        if let (Some(place), true) = (place, stray) {
            let expected = format!("no `{key}`, which a bar that runs this way does not have");
            reader.contradict(place, expected, "");
        }
    }
    if let (Running::Branching, Some(centre)) = (runs, &table.centre)
        && (centre.value[0] - centre.value[1]).abs() > COINCIDENT
    {
        let expected = "one value: a branching bar stands upright".to_owned();
        reader.contradict(&centre.place, expected, "");
    }
}
