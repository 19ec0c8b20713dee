//! Wood left between the cut and the room-side surface.

use crate::prove::proof::WoodLeft;
use crate::prove::reserve::{Across, Front};
use crate::prove::wood::{Field, Row, Stack, Stretch};

/// Wood differing by less is as thin in one place as in the other, mm.
const EVEN: f64 = 1e-6;

/// The least wood of every part that was cut, and the lowest that the cutter came in it, mm. What is
/// measured is what is left square to the face between the cut and the surface behind it; over a
/// hollow, between the hollow and that surface.
pub(super) fn remains(field: &Field, fronts: &[Front]) -> Vec<Option<WoodLeft>> {
    let mut found: Vec<Option<WoodLeft>> = vec![None; fronts.len()];
    for row in &field.rows {
        let (low, high) = (row.y - row.height / 2.0, row.y + row.height / 2.0);
        for (front, best) in fronts.iter().zip(&mut found) {
            let band = (low.max(front.area.y0), high.min(front.area.y1));
            if band.1 - band.0 > EVEN {
                on_row(row, band, &field.stacks, front, best);
            }
        }
    }
    found
}

fn on_row(
    row: &Row,
    band: (f64, f64),
    stacks: &[Stack],
    front: &Front,
    best: &mut Option<WoodLeft>,
) {
    let middle = front.area.center();
    let level = (front.across == Across::Y).then(|| front.highest(band.0, band.1));
    for (begin, stretch) in row.from(front.area.x0) {
        if begin >= front.area.x1 {
            break;
        }
        let span = (begin.max(front.area.x0), stretch.end.min(front.area.x1));
        let Some(floor) = floor(stretch, begin, stacks).filter(|_| span.1 - span.0 > EVEN) else {
            continue;
        };
        let (place, surface) = level.unwrap_or_else(|| front.highest(span.0, span.1));
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
