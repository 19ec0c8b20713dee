//! Every outline of a sash, seen from the glazing face.

use super::SheetError;
use super::kit::{Voice, tell};
use super::layers::{BARS, BLOCKS, NEW_REBATE, OLD_REBATE, SIGHT, TIMBER, UNIT};
use crate::drawing::{Item, Scene};
use crate::fit::{Fit, blocks};
use crate::geometry::{Edge, Outline, OutlineError, PerSide};
use crate::rebate::Rebate;
use crate::sash::{Light, PlacedBar, Sash};
use crate::survey::Runs;
use kurbo::Rect;

/// The outlines as one scene, true to size.
///
/// # Errors
/// Where an outline has no area.
pub fn outlines(
    sash: &Sash,
    fit: &Fit,
    rebate: &Rebate,
    voice: Voice,
) -> Result<Scene, SheetError> {
    let all = [TIMBER, BARS, SIGHT, OLD_REBATE, NEW_REBATE, UNIT, BLOCKS];
    let title = tell!(voice, "sash-title", sash = sash.measured.id);
    let mut scene = Scene::new(title, voice.word("seen-from-face"), &all);

    timber_and_sight(sash, &mut scene)?;
    for placed in &sash.bars {
        scene.add_all(&BARS, bar(sash, placed)?);
    }
    for light in &sash.lights {
        scene.add_all(&OLD_REBATE, old_rebate(sash, light)?);
    }
    for pocket in &rebate.pockets {
        scene.add(&NEW_REBATE, Item::Outline(pocket.wall.clone()));
    }
    for unit in &fit.units {
        scene.add(&UNIT, Item::Outline(unit.outlines.unit.within(unit.unit())?));
        scene.add_all(&BLOCKS, blocks(unit).into_iter().map(Item::Outline));
    }
    Ok(scene)
}

/// Adds the outer edges of a sash and the sight edges of its lights.
pub(super) fn timber_and_sight(sash: &Sash, scene: &mut Scene) -> Result<(), OutlineError> {
    scene.add_all(&TIMBER, timber(sash)?.into_iter().map(Item::Outline));
    for light in &sash.lights {
        scene.add(&SIGHT, Item::Outline(light.outline.within(light.sight)?));
    }
    Ok(())
}

/// The sash's outer edge, and its horns.
pub(super) fn timber(sash: &Sash) -> Result<Vec<Outline>, OutlineError> {
    let outer = sash.outer_outline.within(sash.outer)?;
    Ok([outer].into_iter().chain(sash.horns().into_iter().map(|horn| horn.outline)).collect())
}

/// A bar as it is seen: a rectangle, or its two edges as far as the daylight reaches.
pub(super) fn bar(sash: &Sash, placed: &PlacedBar) -> Result<Vec<Item>, OutlineError> {
    if !sash.is_square_bar(placed) {
        return Ok(bar_edges(sash, placed).into_iter().map(Item::Edge).collect());
    }
    let bar = &placed.measured;
    let half = bar.width / 2.0;
    let (low, high) = (bar.centre - half, bar.centre + half);
    let seen = match bar.runs {
        Runs::Upright => Rect::new(low, sash.sight.y0, high, sash.sight.y1),
        Runs::Cross => Rect::new(sash.sight.x0, low, sash.sight.x1, high),
    };
    Ok(vec![Item::Outline(Outline::rectangle(seen)?)])
}

/// The old rebate's wall round a light. Where its sides cannot be brought together, as where a wide
/// rebate runs round a tight curve, each is drawn by itself.
fn old_rebate(sash: &Sash, light: &Light) -> Result<Vec<Item>, OutlineError> {
    let old = PerSide::from_fn(|side| sash.neighbour(&light.outline, side).1.width());
    if light.outline.is_rectangle() {
        return Ok(vec![Item::Outline(Outline::rectangle(old.grow(light.sight))?)]);
    }
    if let Ok(wall) = light.outline.grow(&old) {
        return Ok(vec![Item::Outline(wall.outline().clone())]);
    }
    let edges = light.outline.edges();
    let apart = edges.filter_map(|(edge, side)| edge.shifted(*old.get(side)));
    Ok(apart.map(Item::Edge).collect())
}

/// Where the edges of a bar are seen: its two sight edges within the daylight.
fn bar_edges(sash: &Sash, bar: &PlacedBar) -> Vec<Edge> {
    let half = bar.measured.width / 2.0;
    let sides = [-half, half].into_iter().filter_map(|by| bar.path.shifted(by));
    sides.flat_map(|edge| sash.outline.outline().stretches_inside(&edge)).collect()
}
