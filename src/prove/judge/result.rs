//! What the wood is like after the last program: the least that is left before the room-side surface,
//! and a map of its heights.

use crate::geometry::Edge;
use crate::prove::proof::{DepthMap, Strip, WoodLeft};
use crate::prove::setup::{Across, Front};
use crate::prove::tolerance::{EVEN, MAP_STEP, MOST_MAP_STEPS};
use crate::prove::wood::{Field, Layer, Row, Stack, Stretch, overlap, surface};

/// The least wood of every part that was cut, and the lowest that the cutter came in it, mm. What is
/// measured is what is left square to the face between the cut and the surface behind it; over a
/// hollow, between the hollow and that surface.
pub(super) fn least_wood(field: &Field, fronts: &[Front]) -> Vec<Option<WoodLeft>> {
    let mut found: Vec<Option<WoodLeft>> = vec![None; fronts.len()];
    let mut known: Vec<Asked> = vec![Asked::new(); fronts.len()];
    for row in &field.rows {
        let (low, high) = (row.y - row.height / 2.0, row.y + row.height / 2.0);
        for ((front, best), known) in fronts.iter().zip(&mut found).zip(&mut known) {
            let band = overlap((low, high), (front.area.y0, front.area.y1));
            if band.1 - band.0 > EVEN {
                let within = (front.area.x0, front.area.x1);
                on_row(row, band, within, &field.stacks, front, known, best);
            }
        }
    }
    found
}

/// The least wood left under a disc of `radius` along `path`, as [`least_wood`] measures it.
pub(super) fn least_under(
    field: &Field,
    path: &Edge,
    radius: f64,
    fronts: &[Front],
) -> Option<WoodLeft> {
    let around = path.bounds().inflate(radius, radius);
    let near = |front: &&Front| {
        let met = front.area.intersect(around);
        met.width() > 0.0 && met.height() > 0.0
    };
    let mut found: Vec<(&Front, Asked, Option<WoodLeft>)> =
        fronts.iter().filter(near).map(|front| (front, Asked::new(), None)).collect();
    for (row, (low, high), span) in field.beneath(path, radius) {
        for (front, known, best) in &mut found {
            let band = overlap((low, high), (front.area.y0, front.area.y1));
            if band.1 - band.0 > EVEN {
                on_row(row, band, span, &field.stacks, front, known, best);
            }
        }
    }
    found.into_iter().filter_map(|(_, _, left)| left).min_by(|a, b| a.wood.total_cmp(&b.wood))
}

/// Where a surface was asked of late for its highest place, and what that was: rows ask for the same places again and
/// again.
type Asked = Vec<((f64, f64), (f64, f64))>;

fn highest(front: &Front, (from, to): (f64, f64), known: &mut Asked) -> (f64, f64) {
    const MANY: usize = 8;
    if let Some((_, highest)) = known.iter().find(|(asked, _)| *asked == (from, to)) {
        return *highest;
    }
    known.truncate(MANY - 1);
    let highest = front.highest(from, to);
    known.insert(0, ((from, to), highest));
    highest
}

fn on_row(
    row: &Row,
    band: (f64, f64),
    within: (f64, f64),
    stacks: &[Stack],
    front: &Front,
    known: &mut Asked,
    best: &mut Option<WoodLeft>,
) {
    let middle = front.area.center();
    let level = (front.across == Across::Y).then(|| front.highest(band.0, band.1));
    let (from, to) = overlap(within, (front.area.x0, front.area.x1));
    for (begin, stretch) in row.from(from) {
        if begin >= to {
            break;
        }
        let span = overlap((begin, stretch.end), (from, to));
        let Some(floor) = floor(stretch, begin, stacks).filter(|_| span.1 - span.0 > EVEN) else {
            continue;
        };
        let (place, surface) = level.unwrap_or_else(|| highest(front, span, known));
        let (wood, lowest) = (floor - surface, stretch.lowest(begin));
        if let Some(known) = best {
            known.lowest = known.lowest.min(lowest);
            if wood > known.wood + EVEN {
                continue;
            }
        }
        let at = match front.across {
            Across::X => [place, well_within(middle.y, band)],
            Across::Y => [well_within(middle.x, span), place],
        };
        let away = |at: [f64; 2]| (at[0] - middle.x).hypot(at[1] - middle.y);
        let lowest = match best {
            Some(known) if wood >= known.wood - EVEN && away(at) >= away(known.at) => continue,
            Some(known) => known.lowest,
            None => lowest,
        };
        let (part, least) = (front.name.clone(), front.least);
        *best = Some(WoodLeft { part, wood, at, z: floor, least, lowest });
    }
}

/// `wanted` where that lies between the two, else their middle: never just on a wall.
fn well_within(wanted: f64, (low, high): (f64, f64)) -> f64 {
    if wanted > low && wanted < high { wanted } else { f64::midpoint(low, high) }
}

/// Z of the lowest wood's upper side where the cutter has been; `None` where it has not, or where
/// nothing is left.
fn floor(stretch: &Stretch, begin: f64, stacks: &[Stack]) -> Option<f64> {
    if !stretch.cut.is_finite() {
        return None;
    }
    let stack = stacks.get(stretch.stack)?;
    let cut = stretch.lowest(begin);
    let lowest = stack.iter().rev().find(|layer| layer.bottom < cut)?;
    // The cutter passed over it, and did not cut it: it is not part of the rebate.
    Some(lowest.top.min(cut))
}

/// Heights of the wood, row by row; rows that are alike are one.
pub(super) fn depth_map(field: &Field) -> DepthMap {
    let mut spare = MOST_MAP_STEPS.1;
    let mut strips: Vec<Strip> = Vec::new();
    let mut last: Option<&Row> = None;
    for row in &field.rows {
        let (y0, y1) = (row.y - row.height / 2.0, row.y + row.height / 2.0);
        let alike = last.replace(row).is_some_and(|last| last.shares(row));
        if let Some(strip) = strips.last_mut().filter(|_| alike) {
            strip.y1 = y1;
            continue;
        }
        let mut spans: Vec<(f64, f64, f64)> = Vec::with_capacity(row.stretches.len());
        for (mut begin, stretch) in row.iter() {
            let stack = field.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice);
            for end in ends(begin, stretch, stack) {
                let change = stretch.cut_at(end) - stretch.cut_at(begin);
                let mut count = 1.0;
                if stretch.lean != 0.0 {
                    let most = MOST_MAP_STEPS.0.min(spare.max(1.0));
                    count = (change.abs() / MAP_STEP).ceil().clamp(1.0, most);
                    spare -= count;
                }
                for (from, to, cut) in steps((begin, end), stretch, count) {
                    let Some(z) = surface(stack, cut) else { continue };
                    match spans.last_mut() {
                        Some(last) if last.1 >= from && last.2.to_bits() == z.to_bits() => {
                            last.1 = to;
                        }
                        _ => spans.push((from, to, z)),
                    }
                }
                begin = end;
            }
        }
        strips.push(Strip { y0, y1, spans });
    }
    DepthMap { strips }
}

/// Where the parts of a stretch end on which the surface is one slope: at its end, and where the cut passes a face of a
/// solid, since beyond an underside the surface is that of what lies deeper.
fn ends(begin: f64, stretch: &Stretch, stack: &[Layer]) -> impl Iterator<Item = f64> {
    let faces = stack.iter().filter(|_| stretch.lean != 0.0);
    let faces = faces.flat_map(|layer| [layer.top, layer.bottom].map(|z| stretch.x_at(z)));
    let mut faces: Vec<f64> = faces.filter(|x| begin < *x && *x < stretch.end).collect();
    faces.sort_unstable_by(f64::total_cmp);
    faces.into_iter().chain([stretch.end])
}

/// A part of the stretch in so many level steps: X from, X to, and the cut in the middle.
fn steps(
    (begin, end): (f64, f64),
    stretch: &Stretch,
    count: f64,
) -> impl Iterator<Item = (f64, f64, f64)> {
    let width = (end - begin) / count;
    let mut index = 0.0;
    std::iter::from_fn(move || {
        if index >= count {
            return None;
        }
        let from = begin + index * width;
        index += 1.0;
        let to = if index < count { begin + index * width } else { end };
        Some((from, to, stretch.cut_at(f64::midpoint(from, to))))
    })
}
