//! A sash frame made by hand, and programs that cut it, written without the planner.

use super::super::*;
use crate::geometry::{Outline, Region};
use crate::rebate::{Corner, Pocket};
use crate::sash::Solid;
use kurbo::Rect;
use std::fmt::Write;

/// Walls outside the sight edge: left, bottom, right, top.
pub(in crate::prove) const WALL: [f64; 4] = [14.0, 16.0, 14.0, 14.0];
/// New platform.
pub(in crate::prove) const PLATFORM: f64 = -27.0;
/// Old rebate: width and platform.
const OLD: (f64, f64) = (9.0, -17.0);

fn grown(rect: Rect, by: [f64; 4]) -> Rect {
    Rect::new(rect.x0 - by[0], rect.y0 - by[1], rect.x1 + by[2], rect.y1 + by[3])
}

fn ring(outer: Rect, inner: Rect) -> Region {
    Region {
        outline: Outline::rectangle(outer).unwrap(),
        holes: vec![Outline::rectangle(inner).unwrap()],
    }
}

/// A frame around a sight opening of `width` by `height`, 45 mm thick.
pub(in crate::prove) fn frame(width: f64, height: f64) -> Rebate {
    let sight = Rect::new(0.0, 0.0, width, height);
    let old = grown(sight, [OLD.0; 4]);
    let wall = grown(sight, WALL);
    let outer = grown(sight, [52.0, 74.0, 52.0, 52.0]);
    let solid = |name: &str, region, top, bottom| Solid {
        name: crate::language::Text::name(name),
        region,
        top,
        bottom,
    };
    let outline = Outline::rectangle(wall).unwrap();
    let corners =
        outline.corners().map(|at| Corner { at, chisel: at.y < 0.0, cleaned: None }).collect();
    Rebate {
        platform: PLATFORM,
        pockets: vec![Pocket { light: "whole sash".into(), wall: outline, corners }],
        go: vec![
            solid("beside the old rebate", ring(wall, old), 0.0, PLATFORM),
            solid("under the old rebate", ring(old, sight), OLD.1, PLATFORM),
        ],
        may_go: vec![],
        stay: vec![
            solid("beside the new rebate", ring(outer, wall), 0.0, -45.0),
            solid("under the new platform", ring(wall, sight), PLATFORM, -45.0),
        ],
    }
}

/// The setup that [`programs`] are written for.
pub(in crate::prove) fn setup() -> Setup {
    // The feeds of these programs are slower than a joiner would have them.
    Setup { skim: 0.0, least_chip: 0.005, ..Setup::default() }
}

const HEAD: &str = "G21 G90 G17 G94\nG0 Z8\nS18000 M3\nG0 X30 Y40\n";
const TAIL: &str = "G0 Z8\nM5\nM2\n";

/// A lap at `z` along the rectangle whose sides lie `out` beyond the sight edge, entered from the
/// opening.
fn lap(text: &mut String, width: f64, height: f64, out: [f64; 4], z: f64) {
    let [left, bottom, right, top] = out;
    let (x0, y0, x1, y1) = (-left, -bottom, width + right, height + top);
    write!(
        text,
        "G1 X30 Y40 F1200\nG1 Z{z} F400\nG1 X{x0} F1200\nY{y1}\nX{x1}\nY{y0}\nX{x0}\nY40\nX30\n"
    )
    .unwrap();
}

/// Three programs that cut [`frame`]: air run, widening, deepening.
pub(in crate::prove) fn programs(width: f64, height: f64) -> Vec<(&'static str, String)> {
    let at_wall = WALL.map(|wall| wall - 6.0);
    let at_sight = [4.0; 4];
    let mut widen = HEAD.to_string();
    for z in [-4, -8, -12, -16, -17] {
        lap(&mut widen, width, height, at_wall, f64::from(z));
    }
    let mut deepen = HEAD.to_string();
    for z in [-20.0, -23.5, -27.0] {
        lap(&mut deepen, width, height, at_wall, z);
        lap(&mut deepen, width, height, at_sight, z);
    }
    let air = format!(
        "%\nG21 G90 G17\nG0 Z8 (up)\nG0 X0 Y0\nG0 X{width}\nG0 Y{height}\nG0 X0\nG0 Y0\nM2\n%\n"
    );
    vec![("1-air-run.ngc", air), ("2-widen.ngc", widen + TAIL), ("3-deepen.ngc", deepen + TAIL)]
}

/// Proves named texts.
pub(in crate::prove) fn proof(
    texts: &[(&'static str, String)],
    rebate: &Rebate,
    setup: &Setup,
) -> Proof {
    prove(&listed(texts), rebate, setup)
}

/// Named texts as programs.
pub(in crate::prove) fn listed<'a>(texts: &'a [(&'static str, String)]) -> Vec<Program<'a>> {
    texts.iter().map(|(name, text)| Program::new(name, text)).collect()
}

/// The rules broken, each once, in order.
pub(in crate::prove) fn rules(proof: &Proof) -> Vec<&'static str> {
    let mut rules: Vec<_> = proof.findings().map(|finding| finding.rule).collect();
    rules.sort_unstable();
    rules.dedup();
    rules
}
