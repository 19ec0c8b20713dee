//! Every part cut across where least wood is left of it, from the heights of the proof.

use super::bands::strip_at;
use super::{HEIGHT, layers};
use crate::drawing::{Across as Hold, Dimension, Hatch, Item, Scene, Text, Up};
use crate::geometry::{COINCIDENT, Outline, OutlineError, Region};
use crate::prove::{Across, DepthMap, Front, Proof, Reserve, WoodLeft};
use crate::sheets::kit::{Voice, fixed, tell};
use kurbo::{Point, Vec2};

/// Sections in one column.
const COLUMN: usize = 5;
/// Room around a section, mm.
const ROOM: f64 = 18.0;

/// From, to, and Z of the surface between them.
type Span = (f64, f64, f64);

/// Sections downwards from `at`, column by column.
pub(super) fn sections(
    scene: &mut Scene,
    at: Point,
    reserve: &Reserve,
    (proof, voice): (&Proof, Voice),
) -> Result<(), OutlineError> {
    let mut corner = at;
    let mut widest = 0.0_f64;
    for (index, left) in proof.margins.wood.iter().enumerate() {
        let Some(front) = reserve.fronts.iter().find(|front| front.name == left.part) else {
            continue;
        };
        if index > 0 && index % COLUMN == 0 {
            corner = Point::new(corner.x + widest + ROOM, at.y);
            widest = 0.0;
        }
        let (width, height) = section(scene, corner, (index + 1, voice), front, left, &proof.map)?;
        widest = widest.max(width);
        corner.y -= height + ROOM;
    }
    Ok(())
}

/// One section with its upper left corner at `at`; tells its size.
fn section(
    scene: &mut Scene,
    at: Point,
    (number, voice): (usize, Voice),
    front: &Front,
    left: &WoodLeft,
    map: &DepthMap,
) -> Result<(f64, f64), OutlineError> {
    let (along, from, to) = match front.across {
        Across::X => ("Y", front.area.x0, front.area.x1),
        Across::Y => ("X", front.area.y0, front.area.y1),
    };
    let [x, y] = left.at;
    let (place, spans, spot) = match front.across {
        Across::X => (y, level(map, y, (from, to)), x),
        Across::Y => (x, upright(map, x, (from, to)), y),
    };
    let place = fixed(place, 0);
    let title = tell!(
        voice,
        "left-section",
        number,
        part = voice.named(&left.part),
        along,
        place,
        wood = format!("{:.1}", left.wood)
    );
    let title = Text::new(voice.said(&title), at, HEIGHT).anchored(Hold::Left, Up::Top);
    let width = title.width().max(to - from);
    scene.add(&layers::WORDS, Item::Text(title));
    // Places run to the right from the upper left corner of the drawing, Z from the glazing face.
    let face = at + Vec2::new(-from, -3.0 * HEIGHT);
    for ring in rings(&spans, front) {
        let corners: Vec<Point> = ring.iter().map(|&p| face + p.to_vec2()).collect();
        let outline = Outline::polygon(&corners)?;
        let region = Region::solid(outline.clone());
        scene.add(&layers::HATCHING, Item::Hatch(region, Hatch::Timber));
        scene.add(&layers::TIMBER, Item::Outline(outline));
    }
    let ends = [left.z, left.z - left.wood].map(|z| face + Vec2::new(spot, z));
    // Beside the wood: to the left of it, unless the place lies nearer its right.
    let right = spot > f64::midpoint(from, to);
    let line = if right { to + 2.0 * HEIGHT } else { from - 2.0 * HEIGHT };
    let dimension = Dimension::upright(ends[1], ends[0], face.x + line, voice.figures(HEIGHT));
    scene.add(&layers::DIMENSIONS, Item::Dimension(dimension));
    let deepest = front.surface.iter().map(|&[_, z]| z).fold(0.0, f64::min);
    Ok((width + 3.0 * HEIGHT, 3.0 * HEIGHT - deepest))
}

/// Along X at `y`.
fn level(map: &DepthMap, y: f64, (from, to): (f64, f64)) -> Vec<Span> {
    let spans = strip_at(map, y).map_or(&[][..], |strip| strip.spans.as_slice());
    let within = spans.iter().map(|&(a, b, z)| (a.max(from), b.min(to), z));
    within.filter(|(a, b, _)| b - a > COINCIDENT).collect()
}

/// Along Y at `x`.
fn upright(map: &DepthMap, x: f64, (from, to): (f64, f64)) -> Vec<Span> {
    let mut found: Vec<Span> = Vec::new();
    for strip in map.strips.iter().filter(|strip| strip.y1 > from && strip.y0 < to) {
        let holds = |span: &&(f64, f64, f64)| span.0 <= x && x <= span.1;
        let Some(&(_, _, z)) = strip.spans.iter().find(holds) else { continue };
        let (a, b) = (strip.y0.max(from), strip.y1.min(to));
        match found.last_mut() {
            Some(last) if (last.2 - z).abs() <= COINCIDENT && a - last.1 <= COINCIDENT => {
                last.1 = b;
            }
            _ if b - a > COINCIDENT => found.push((a, b, z)),
            _ => {}
        }
    }
    found
}

/// Closed rings of wood between the spans and the room-side surface.
fn rings(spans: &[Span], front: &Front) -> Vec<Vec<Point>> {
    let mut rings = Vec::new();
    let mut group: Vec<Span> = Vec::new();
    for &(a, b, z) in spans {
        let joins = group.last().is_some_and(|last| a - last.1 <= COINCIDENT);
        if !joins {
            rings.extend(ring(&group, front));
            group.clear();
        }
        group.push((a, b, z));
    }
    rings.extend(ring(&group, front));
    rings
}

/// One ring; `None` where there is none.
fn ring(group: &[Span], front: &Front) -> Option<Vec<Point>> {
    let (from, to) = (group.first()?.0, group.last()?.1);
    let mut ring: Vec<Point> = Vec::new();
    let surface = front.surface.iter().map(|&[at, z]| Point::new(at, z));
    let inner = surface.filter(|point| point.x > from + COINCIDENT && point.x < to - COINCIDENT);
    let edge = |at: f64| Point::new(at, front.height(at));
    let lower = std::iter::once(edge(from)).chain(inner).chain([edge(to)]);
    let upper = group.iter().rev().flat_map(|&(a, b, z)| [Point::new(b, z), Point::new(a, z)]);
    for point in lower.chain(upper) {
        if ring.last().is_none_or(|last| (*last - point).hypot() > COINCIDENT) {
            ring.push(point);
        }
    }
    if ring.len() > 1
        && ring.first().zip(ring.last()).is_some_and(|(a, b)| (*a - *b).hypot() <= COINCIDENT)
    {
        ring.pop();
    }
    (ring.len() > 2).then_some(ring)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::Rect;

    #[test]
    fn a_ring_runs_along_the_moulding_and_back_along_the_cut() {
        let front = Front {
            name: "left stile".into(),
            area: Rect::new(-50.0, 0.0, 0.0, 100.0),
            across: Across::X,
            surface: vec![[-8.0, -45.0], [0.0, -37.0]],
            least: 5.0,
            lowest: None,
            outer: None,
        };
        let spans = [(-50.0, -14.0, 0.0), (-14.0, 0.0, -27.0)];
        let rings = rings(&spans, &front);
        assert_eq!(rings.len(), 1);
        let outline = Outline::polygon(&rings[0]).unwrap();
        // The whole, less the rebate, less the chamfer.
        assert_relative_eq!(outline.area(), 50.0 * 45.0 - 14.0 * 27.0 - 32.0, epsilon = 1e-9);
        assert_eq!(super::rings(&[(-50.0, -14.0, 0.0), (-9.0, 0.0, -27.0)], &front).len(), 2);
    }
}
