//! Any text as a program for a small frame: a proof comes out, whatever the text holds.

#![no_main]

use fillister::geometry::{Outline, Region};
use fillister::prove::{Program, Setup, prove};
use fillister::rebate::{Pocket, Rebate};
use fillister::sash::Solid;
use kurbo::Rect;
use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;

static FRAME: LazyLock<Rebate> = LazyLock::new(|| {
    let outline = |rect| Outline::rectangle(rect).expect("the rectangle has an area");
    let [outer, wall, sight] = [40.0, 14.0, 0.0].map(|by: f64| {
        outline(Rect::new(0.0, 0.0, 60.0, 80.0).inflate(by, by))
    });
    let ring = |name: &str, outer: &Outline, inner: &Outline, top, bottom| Solid {
        name: fillister::language::Text::name(name),
        region: Region { outline: outer.clone(), holes: vec![inner.clone()] },
        top,
        bottom,
    };
    Rebate {
        platform: -10.0,
        go: vec![ring("rebate", &wall, &sight, 0.0, -10.0)],
        may_go: Vec::new(),
        stay: vec![
            ring("beside", &outer, &wall, 0.0, -45.0),
            ring("under", &wall, &sight, -10.0, -45.0),
        ],
        pockets: vec![Pocket { light: "light 1".into(), wall, corners: Vec::new() }],
    }
});

fuzz_target!(|text: &str| {
    let programs = [Program::new("1.ngc", text)];
    let proof = prove(&programs, &FRAME, &Setup::default());
    assert!(proof.is_proven() || !proof.faults.is_empty());
});
