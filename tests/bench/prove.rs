//! How long the proof of a whole sash takes: 820 × 930 mm of sight, one unit behind two upright
//! bars cut down, 27 mm deep. The programs are written here, without the planner.

use fillister::geometry::{Outline, Region};
use fillister::prove::{Program, Setup, prove};
use fillister::rebate::{Corner, Pocket, Rebate};
use fillister::sash::Solid;
use kurbo::Rect;
use std::fmt::Write;

const SIZE: (f64, f64) = (820.0, 930.0);
const PLATFORM: f64 = -27.0;
const BARS: [f64; 2] = [268.0, 552.0];

#[divan::bench]
fn one_unit_behind_bars(bencher: divan::Bencher<'_, '_>) {
    let (rebate, texts) = (rebate(), texts());
    let proof = prove(&programs(&texts), &rebate, &Setup::default());
    assert!(proof.is_proven(), "{:#?}", proof.faults);
    bencher.bench(|| prove(&programs(&texts), &rebate, &Setup::default()));
}

#[divan::bench]
fn widening_and_deepening_only(bencher: divan::Bencher<'_, '_>) {
    let (rebate, texts) = (rebate(), texts());
    bencher.bench(|| prove(&programs(&texts[1..]), &rebate, &Setup::default()));
}

fn programs<'a>(texts: &'a [(&'static str, String)]) -> Vec<Program<'a>> {
    texts.iter().map(|(name, text)| Program::new(name, text)).collect()
}

/// A rectangle around the sight opening, `by` beyond it.
fn beyond(by: f64) -> Rect {
    Rect::new(0.0, 0.0, SIZE.0, SIZE.1).inflate(by, by)
}

fn ring(outer: Rect, inner: Rect) -> Region {
    let rectangle = |rect| Outline::rectangle(rect).unwrap();
    Region { outline: rectangle(outer), holes: vec![rectangle(inner)] }
}

fn rebate() -> Rebate {
    let solid = |name: &str, region, top, bottom| Solid {
        name: fillister::language::Text::name(name),
        region,
        top,
        bottom,
    };
    let (sight, old, wall, outer) = (beyond(0.0), beyond(9.0), beyond(14.0), beyond(52.0));
    let outline = Outline::rectangle(wall).unwrap();
    let corners = outline.corners().map(|at| Corner { at, chisel: true, cleaned: None }).collect();
    let bar = |x: f64, half: f64| {
        let rect = Rect::new(x - half, 0.0, x + half, SIZE.1);
        Region::solid(Outline::rectangle(rect).unwrap())
    };
    let mut go = vec![
        solid("beside the old rebate", ring(wall, old), 0.0, PLATFORM),
        solid("under the old rebate", ring(old, sight), -17.0, PLATFORM),
    ];
    let mut stay = vec![
        solid("beside the new rebate", ring(outer, wall), 0.0, -45.0),
        solid("under the new platform", ring(wall, sight), PLATFORM, -45.0),
    ];
    for x in BARS {
        go.push(solid("bar", bar(x, 11.0), 0.0, PLATFORM));
        stay.push(solid("bar", bar(x, 11.0), PLATFORM, -45.0));
    }
    let pockets = vec![Pocket { light: "whole sash".into(), wall: outline, corners }];
    Rebate { platform: PLATFORM, pockets, go, may_go: vec![], stay }
}

const HEAD: &str = "G21 G90 G17 G94\nG0 Z8\nS18000 M3\nG0 X150 Y400\n";
const TAIL: &str = "G0 Z8\nM5\nM2\n";

fn lap(text: &mut String, out: f64, z: f64) {
    let path = beyond(out);
    let (x0, y0, x1, y1) = (path.x0, path.y0, path.x1, path.y1);
    write!(
        text,
        "G0 X150 Y400\nG1 Z{z} F400\nX{x0} F1200\nY{y1}\nX{x1}\nY{y0}\nX{x0}\nY400\nX150\nG0 Z8\n"
    )
    .unwrap();
}

fn texts() -> Vec<(&'static str, String)> {
    let mut bars = HEAD.to_string();
    for x in BARS {
        for depth in 1..=7 {
            let z = -f64::from(depth) * 27.0 / 7.0;
            let (from, to) = (x - 6.0, x + 6.0);
            write!(
                bars,
                "G0 X{} Y100\nG1 Z{z:.3} F400\nX{from} F1200\nY934\nY-4\nY100\nX{x}\nY934\nY-4\n\
                 Y100\nX{to}\nY934\nY-4\nY100\nX{}\nG0 Z8\n",
                x - 30.0,
                x + 30.0
            )
            .unwrap();
        }
    }
    let mut widen = HEAD.to_string();
    for z in [-2.5, -5.0, -7.5, -10.0, -12.5, -15.0, -17.0] {
        lap(&mut widen, 7.5, z);
    }
    let mut deepen = HEAD.to_string();
    for z in [-20.0, -23.5, -27.0] {
        lap(&mut deepen, 7.5, z);
        lap(&mut deepen, 4.0, z);
    }
    let mut finish = HEAD.to_string();
    lap(&mut finish, 8.0, PLATFORM);
    vec![
        ("1-lower-bars.ngc", bars + TAIL),
        ("2-widen.ngc", widen + TAIL),
        ("3-deepen.ngc", deepen + TAIL),
        ("4-finish.ngc", finish + TAIL),
    ]
}
