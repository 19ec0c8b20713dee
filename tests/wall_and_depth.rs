//! Survey to wall and depth, by formulas that are written here once more: squares with and without tape,
//! with proud beads, with other clearances on every side, beside old rebates that are wider than asked for.

use crate::support::houses;
use crate::support::runs::for_all;
use crate::support::writer::{Lengths, write};
use fillister::fit;
use fillister::geometry::{PerSide, Side};
use fillister::sash::{Light, Sash};
use fillister::survey::{self, BarsAs, BuildUp, OldGlazing, Pane, Runs, read};
use proptest::prelude::*;
use std::cell::Cell;

/// Bed + panes + cavities + what the unit may come over + bead − what the bead stands proud.
fn depth(sash: &survey::Sash) -> f64 {
    let unit = match &sash.unit.build_up {
        BuildUp::Bare(thickness) => *thickness,
        BuildUp::Panes { panes, cavities } => {
            panes.iter().map(Pane::thickness).chain(cavities.iter().copied()).sum()
        }
    };
    sash.finish.bed + unit + sash.unit.over + sash.finish.bead - sash.finish.proud
}

/// How far the old rebate or groove goes in beside a light: into a member, or into the bar that ends there.
fn old_width(sash: &survey::Sash, light: &Light, side: Side) -> f64 {
    let (at, runs) = match side {
        Side::Left => (light.sight.x0, Runs::Upright),
        Side::Right => (light.sight.x1, Runs::Upright),
        Side::Bottom => (light.sight.y0, Runs::Cross),
        Side::Top => (light.sight.y1, Runs::Cross),
    };
    let edge = |centre: f64, width: f64| match side {
        Side::Left | Side::Bottom => centre + width / 2.0,
        Side::Right | Side::Top => centre - width / 2.0,
    };
    let mut bars = sash.bars.iter().filter(|bar| bar.runs == runs);
    match bars.find(|bar| (edge(bar.centre, bar.width) - at).abs() < 1e-6) {
        Some(bar) => bar.rebate_width,
        None => match sash.members.get(side).old {
            OldGlazing::Rebate { width, .. } => width,
            OldGlazing::Groove { depth, .. } => depth,
        },
    }
}

#[test]
fn wall_and_depth_follow_from_the_survey() {
    let [taped, proud, wider, lights] = [(); 4].map(|()| Cell::new(0));
    let count = |of: &Cell<u32>, holds: bool| of.set(of.get() + u32::from(holds));
    for_all(200, &houses::house(), |house| {
        let house = read(&write(&house, Lengths::Millimetres), "house.toml")
            .map_err(|mistakes| TestCaseError::fail(mistakes.to_string()))?;
        for measured in &house.sashes {
            let sash = Sash::new(measured).unwrap();
            let fit = fit::fit(&sash, &house.workshop).unwrap();
            prop_assert!((fit.depth - depth(measured)).abs() < 1e-9);
            let whole = Light {
                name: "whole sash".into(),
                sight: sash.sight,
                outline: sash.outline.clone(),
            };
            let behind = match measured.bars_as {
                BarsAs::OneUnit => vec![whole],
                BarsAs::UnitPerLight => sash.lights.clone(),
            };
            prop_assert_eq!(fit.units.len(), behind.len());
            for (unit, light) in fit.units.iter().zip(&behind) {
                // Cover + tape + clearance, or an old rebate that is wider.
                let width = PerSide::from_fn(|side| {
                    let asked = measured.unit.cover + measured.unit.tape;
                    let asked = asked + measured.clearance.get(side);
                    let old = if light.name == "whole sash" {
                        measured.members.get(side).old.width()
                    } else {
                        old_width(measured, light, side)
                    };
                    count(&wider, old > asked);
                    asked.max(old)
                });
                let sight = light.sight;
                let expected = [
                    sight.x0 - width.left,
                    sight.y0 - width.bottom,
                    sight.x1 + width.right,
                    sight.y1 + width.top,
                ];
                let wall = [unit.wall().x0, unit.wall().y0, unit.wall().x1, unit.wall().y1];
                for (found, expected) in wall.into_iter().zip(expected) {
                    prop_assert!((found - expected).abs() < 1e-9, "{} {}", found, expected);
                }
                count(&taped, measured.unit.tape > 0.1);
                count(&proud, measured.finish.proud > 0.1);
                count(&lights, measured.bars_as == BarsAs::UnitPerLight);
            }
        }
        Ok(())
    });
    let seen = [taped.get(), proud.get(), wider.get(), lights.get()];
    assert!(seen.iter().all(|&seen| seen > 20), "{seen:?}");
}
