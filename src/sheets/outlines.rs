//! Every outline of a sash, seen from the glazing face.

use super::layers::{BARS, BLOCKS, NEW_REBATE, OLD_REBATE, SIGHT, TIMBER, UNIT};
use crate::drawing::{Item, Scene};
use crate::fit::{Fit, blocks};
use crate::geometry::{Outline, OutlineError};
use crate::rebate::Rebate;
use crate::sash::Sash;
use crate::survey::Runs;
use kurbo::Rect;

/// The outlines as one scene, true to size.
///
/// # Errors
/// Where an outline has no area.
pub fn outlines(sash: &Sash, fit: &Fit, rebate: &Rebate) -> Result<Scene, OutlineError> {
    let all = [TIMBER, BARS, SIGHT, OLD_REBATE, NEW_REBATE, UNIT, BLOCKS];
    let title = format!("sash {}", sash.measured.id);
    let mut scene = Scene::new(title, "seen from the glazing face", &all);
    let closed = |rect: Rect| Outline::rectangle(rect).map(Item::Outline);

    scene.add(&TIMBER, closed(sash.outer)?);
    for bar in &sash.measured.bars {
        let half = bar.width / 2.0;
        let (low, high) = (bar.centre - half, bar.centre + half);
        let seen = match bar.runs {
            Runs::Upright => Rect::new(low, sash.sight.y0, high, sash.sight.y1),
            Runs::Cross => Rect::new(sash.sight.x0, low, sash.sight.x1, high),
        };
        scene.add(&BARS, closed(seen)?);
    }
    for light in &sash.lights {
        scene.add(&SIGHT, closed(light.sight)?);
        let old =
            crate::geometry::PerSide::from_fn(|side| sash.beside(&light.outline, side).1.width());
        scene.add(&OLD_REBATE, closed(old.grow(light.sight))?);
    }
    for pocket in &rebate.pockets {
        scene.add(&NEW_REBATE, Item::Outline(pocket.wall.clone()));
    }
    for unit in &fit.units {
        scene.add(&UNIT, closed(unit.unit)?);
        // Without a gap there is no block to draw.
        for block in blocks(unit).into_iter().filter(|block| block.area() > 0.0) {
            scene.add(&BLOCKS, closed(block)?);
        }
    }
    Ok(scene)
}
