//! Glazing bars: inside the sight, clear of each other, held at both ends, and with a web.

use super::courses::courses;
use super::held::held;
use super::members::{check_rebate, check_tenon};
use super::mouldings::{Shaped, Wood};
use super::sight::{Daylight, SWAPPED};
use crate::geometry::COINCIDENT;
use crate::input::{Optional, Reader, Spanned, show};
use crate::survey::file::members::{BarTable, Running};
use crate::survey::file::sash::SashTable;
use crate::survey::tolerance::LEAST_LIGHT;
use crate::survey::values::{Bar, Course, Runs};

/// The bars of a sash; `None` where the reader has noted why.
pub(super) fn bars(
    sash: &Spanned<Box<SashTable>>,
    sight: &Daylight,
    name: &str,
    reader: &mut Reader<'_>,
) -> Option<Vec<Bar>> {
    let Some(tables) = &sash.bars else { return Some(Vec::new()) };
    let mut bars: Vec<Bar> = Vec::new();
    let (mut whole, mut places) = (true, Vec::new());
    for (index, table) in tables.iter().enumerate() {
        reader.at_part(format!("{name}: bar {}", index + 1));
        check_place(table, sight, reader);
        let courses = courses(table, sight, reader);
        let found = bar(sash, table, reader).zip(courses);
        whole &= found.is_some();
        if let Some((bar, courses)) = found {
            let all = courses.into_iter().map(|course| placed(&bar, course));
            bars.extend(all);
            places.resize(bars.len(), &table.place);
        }
    }
    if whole {
        whole = held(&bars, &places, sight, reader);
    }
    reader.at_part(String::new());
    for runs in [Runs::Upright, Runs::Cross] {
        check_apart(tables, runs, reader);
    }
    whole.then_some(bars)
}

/// The same bar on that centre line.
fn placed(bar: &Bar, course: Course) -> Bar {
    let Course::Between(edge) = course else { return bar.clone() };
    let (runs, middle) = (Runs::of(&edge), edge.at(0.5));
    let centre = if runs == Runs::Upright { middle.x } else { middle.y };
    Bar { runs, course, centre, lean: 0.0, ..bar.clone() }
}

fn check_place(bar: &BarTable, sight: &Daylight, reader: &mut Reader<'_>) {
    let (Some(runs), Some(centre), Some(width)) = (through(bar), &bar.centre, &bar.width) else {
        return;
    };
    let (across, along, edge) = match runs {
        Runs::Upright => (&sight.width, &sight.height, "left"),
        Runs::Cross => (&sight.height, &sight.width, "lower"),
    };
    let Some(across) = across else { return };
    let least = LEAST_LIGHT + width.value / 2.0;
    let most = across.value - least;
    let within = |most: f64| {
        let mut all = centre.value.iter();
        all.all(|&centre| centre >= least - COINCIDENT && centre <= most + COINCIDENT)
    };
    if !within(most) {
        let expected = format!(
            "a centre from {} to {} mm, so that the bar lies in the sight with {} mm of light beside it",
            show(least),
            show(most.max(least)),
            show(LEAST_LIGHT),
        );
        let turned = along.as_ref().filter(|along| within(along.value - least));
        let swapped = turned.map_or("", |_| SWAPPED);
        let hint = format!("the centre is measured from the {edge} sight edge{swapped}");
        reader.contradict(&centre.place, expected, &hint);
    }
}

/// Which way a bar runs that goes from side to side.
fn through(bar: &BarTable) -> Option<Runs> {
    match bar.runs.as_ref()?.value {
        Running::Through(runs) => Some(runs),
        _ => None,
    }
}

/// Notes bars that overlap or leave no light between them, at either end.
fn check_apart(bars: &[Spanned<Box<BarTable>>], runs: Runs, reader: &mut Reader<'_>) {
    let mut spans: Vec<_> = bars
        .iter()
        .filter(|bar| through(bar) == Some(runs))
        .filter_map(|bar| Some((bar.centre.as_ref()?, bar.width.as_ref()?.value)))
        .collect();
    spans.sort_by(|(a, _), (b, _)| a.value[0].total_cmp(&b.value[0]));
    for pair in spans.windows(2) {
        let [(before, before_width), (centre, width)] = pair else { continue };
        let between = f64::midpoint(*before_width, *width) + LEAST_LIGHT;
        let ends = before.value.iter().zip(centre.value);
        let Some((before, _)) = ends.into_iter().find(|(a, b)| *b < *a + between - COINCIDENT)
        else {
            continue;
        };
        let expected = format!(
            "at least {} mm, clear of the bar at {} mm with {} mm of light between them",
            show(before + between),
            show(*before),
            show(LEAST_LIGHT),
        );
        reader.contradict(&centre.place, expected, "");
    }
}

fn bar(
    sash: &Spanned<Box<SashTable>>,
    bar: &Spanned<Box<BarTable>>,
    reader: &mut Reader<'_>,
) -> Option<Bar> {
    let wide = bar.width.value();
    let thickness = bar.thickness.as_ref().or(sash.thickness.as_ref()).map(|given| given.value);
    let rebate = bar.rebate.as_ref().or(sash.rebate.as_ref());
    if rebate.is_none() {
        let about = "the old rebates of the bar, since the sash has none to go by";
        reader.missing(&bar.place, "rebate", about);
    }
    let cut = rebate.and_then(|rebate| check_rebate(rebate, wide, thickness, "bar", reader));
    let tenon = bar.tenon.as_ref().and_then(|tenon| {
        check_tenon(tenon.thickness.as_ref(), tenon.from_face.as_ref(), thickness, reader)
    });
    let own = Shaped::new(bar.moulding.as_ref().or(sash.moulding.as_ref()), reader);
    let half = wide.map(|wide| wide / 2.0);
    let moulding = match (own, half) {
        // What the bar takes over from the sash gives way; what was measured on the bar does not.
        (Some(shaped), Some(half)) if bar.moulding.is_none() => Some(shaped.narrowed(half)),
        (shaped, _) => shaped,
    };
    if let Some(moulding) = &moulding {
        let wood = Wood {
            width: half.map(|half| (half, "half the width of the bar")),
            under: thickness.zip(cut).map(|(thick, (_, depth))| thick - depth),
        };
        moulding.check(&wood, reader);
    }
    let (rebate_width, rebate_depth) = cut?;
    let [near, far] = bar.centre.value_or([0.0; 2]);
    bar.runs.as_ref()?;
    Some(Bar {
        runs: through(bar).unwrap_or(Runs::Upright),
        course: Course::Through,
        centre: f64::midpoint(near, far),
        lean: far - near,
        width: wide?,
        thickness: thickness?,
        rebate_width,
        rebate_depth,
        moulding: moulding?.moulding,
        tenon,
    })
}
