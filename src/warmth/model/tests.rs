use super::super::conduction::grid::Fineness;
use super::super::sections::FINENESS;
use super::*;
use crate::fit::fit;
use crate::geometry::Side;
use crate::glass::thermal::{Filling, UNCOATED, corrected};
use crate::sash::{Part, Sash};
use crate::survey::{self, BarsAs, Finish, HeldBy, Member, Moulding, WaterOut, Workshop};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde::{Deserialize, Serialize};

/// Where the sections lie, and what the library makes of them.
const SECTIONS: &str = "fixtures/reference/edge_sections.json";
const EDGES: &str = include_str!("../../../fixtures/reference/edges.json");

/// Corners and conductivity.
type Laid = (Vec<[f64; 2]>, f64);

/// A section as it is handed to the library: corners, mm, and λ, W/(m K), what lies over what last.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Section {
    cards: Vec<Laid>,
    /// Y over which an open face is outdoors.
    middle: f64,
    /// Conductances of the films, W/(m²K).
    films: [f64; 2],
}

#[derive(Deserialize)]
struct Edges {
    versions: std::collections::BTreeMap<String, String>,
    /// Heat, W/(m K), and f_Rsi.
    found: Vec<[f64; 2]>,
}

fn moulding() -> impl Strategy<Value = Moulding> {
    let size = || (6.0..14.0_f64, 6.0..12.0_f64);
    prop_oneof![
        Just(Moulding::Square),
        size().prop_map(|(width, depth)| Moulding::Chamfer { width, depth }),
        size().prop_map(|(width, depth)| Moulding::Ovolo { width, depth }),
        size().prop_map(|(width, depth)| Moulding::Ogee { width, depth }),
    ]
}

/// A sash of any usual section, whether its stile or its bar is looked at, and how its unit is made.
fn sash() -> impl Strategy<Value = (survey::Sash, bool, bool, Spacer)> {
    let unit = prop::sample::select(vec!["4-6-4", "3-4-3", "4-12-4", "33.1-8-4", "3-6-3-6-3"]);
    let finish = (1.0..3.0_f64, 6.0..12.0_f64, 0.0..5.0_f64);
    let wood = (45.0..75.0_f64, 40.0..110.0_f64, 18.0..32.0_f64, moulding());
    let of_unit = (unit, 8.0..14.0_f64, 5.0..12.0_f64, any::<bool>());
    (wood, finish, of_unit, any::<(bool, bool, bool)>()).prop_map(|(wood, finish, of_unit, any)| {
        let (thickness, width, bar, moulding) = wood;
        let bar = 1.2 * bar;
        let ((bed, bead, proud), (build_up, cover, seal, coated)) = (finish, of_unit);
        let (is_bar, per_light, metal) = any;
        let mut sash = crate::sash::tests::casement();
        // Every third or so in putty.
        let (held_by, water, proud) = if proud < 1.6 {
            (HeldBy::Putty, Some(WaterOut::Bedded), 0.0)
        } else {
            (HeldBy::Beads, None, proud)
        };
        sash.finish = Finish { bed, bead, proud, held_by, water };
        sash.unit.build_up = build_up.parse().unwrap();
        (sash.unit.cover, sash.unit.spacer_height) = (cover, seal.min(cover));
        let like = |member: &Member| Member {
            thickness,
            width,
            moulding: moulding.clone(),
            ..member.clone()
        };
        sash.members = sash.members.map(like);
        for of in &mut sash.bars {
            (of.thickness, of.width, of.moulding) = (thickness, bar, Moulding::Square);
        }
        // A bar that two rebates leave no web of is no section.
        let gaps: f64 = [sash.clearance.left, sash.clearance.right].iter().sum();
        let per_light = per_light && bar > 2.0 * cover + gaps + 1.0;
        sash.bars_as = if per_light { BarsAs::UnitPerLight } else { BarsAs::OneUnit };
        (sash, is_bar, coated, if metal { Spacer::Metal } else { Spacer::Improved })
    })
}

/// With the unit, with a panel, and as it was.
fn models((measured, is_bar, coated, spacer): &(survey::Sash, bool, bool, Spacer)) -> [Model; 3] {
    let sash = Sash::new(measured).unwrap();
    let fit = fit(&sash, &Workshop::default()).unwrap();
    let part = if *is_bar { Part::Bar(&sash.bars[0]) } else { Part::Member(Side::Left) };
    let cross = Cross::new(&sash, &fit, part);
    let emits = if *coated { corrected(0.03).unwrap() } else { UNCOATED };
    let filling = Filling::in_air(Gas::Argon, 0.9).unwrap();
    let glazing = Glazing::of(&measured.unit.build_up, filling, emits).unwrap().unwrap();
    [Model::after(&cross, &glazing, *spacer), Model::with_panel(&cross), Model::before(&cross, 3.0)]
}

fn corners(card: &Card) -> Vec<[f64; 2]> {
    card.corners().into_iter().map(|at| [at.x, at.y]).collect()
}

/// Ten sections that chance draws, the same each time: as it was for every fifth, with its unit else.
fn drawn() -> Vec<(Model, Section)> {
    let mut runner = TestRunner::deterministic();
    (0..10)
        .map(|index| {
            let tree = sash().new_tree(&mut runner).unwrap();
            let [after, _, before] = models(&tree.current());
            let model = if index % 5 == 4 { before } else { after };
            let cards = model.cards.iter().map(|(card, conducts)| (corners(card), *conducts));
            let section =
                Section { cards: cards.collect(), middle: model.middle, films: [INSIDE, OUTSIDE] };
            (model, section)
        })
        .collect()
}

fn solved(model: &Model, fineness: Fineness) -> [f64; 2] {
    let field = model.solve(&model.body(fineness)).unwrap();
    [field.heat, field.coldest(0.5).unwrap().1]
}

// Finite elements on triangles that follow every slope, by a general-purpose library; see make_edges.py.
#[test]
fn ten_sections_agree_with_a_library_of_finite_elements() {
    let drawn = drawn();
    let text: Vec<Section> = drawn.iter().map(|(_, section)| section.clone()).collect();
    let text = serde_json::to_string_pretty(&text).unwrap();
    let known = std::fs::read_to_string(SECTIONS).unwrap_or_default();
    if std::env::var_os("FILLISTER_RENEW").is_some() {
        std::fs::write(SECTIONS, text + "\n").unwrap();
        panic!("{SECTIONS} is written: run make_edges.py");
    }
    let known: Vec<Section> = serde_json::from_str(&known).unwrap();
    let edges: Edges = serde_json::from_str(EDGES).unwrap();
    assert_eq!((known.len(), edges.found.len()), (10, 10));
    let mut off = [[0.0_f64; 2]; 2];
    for (((model, section), known), found) in drawn.iter().zip(&known).zip(&edges.found) {
        let like = |(a, b): (&Laid, &Laid)| {
            let same = a.0.iter().flatten().zip(b.0.iter().flatten());
            (a.1 - b.1).abs() < 1e-9
                && same.clone().count() > 5
                && same.into_iter().all(|(a, b)| (a - b).abs() < 1e-9)
        };
        assert_eq!(section.cards.len(), known.cards.len());
        assert!(
            section.cards.iter().zip(&known.cards).all(like),
            "sections are drawn anew: renew them"
        );
        for (off, fineness) in off.iter_mut().zip([FINENESS, Fineness { beside: 0.5, growth: 1.3 }])
        {
            let [heat, factor] = solved(model, fineness);
            off[0] = off[0].max((heat / found[0] - 1.0).abs());
            off[1] = off[1].max((factor - found[1]).abs());
        }
    }
    eprintln!(
        "{:?}: heat within {:.4}, f within {:.4}; fine {:.4}, {:.4}",
        edges.versions, off[0][0], off[0][1], off[1][0], off[1][1]
    );
    assert!(off[0][0] < 0.01 && off[0][1] < 0.004, "{off:?}");
    assert!(off[1][0] < 0.002 && off[1][1] < 0.002, "{off:?}");
}

/// Grids from coarse to fine; the last stands for the answer.
const GRIDS: [Fineness; 6] = [
    Fineness { beside: 4.8, growth: 2.5 },
    Fineness { beside: 2.4, growth: 2.0 },
    FINENESS,
    Fineness { beside: 0.6, growth: 1.5 },
    Fineness { beside: 0.3, growth: 1.3 },
    Fineness { beside: 0.15, growth: 1.2 },
];

// The same ten sections on grids ever finer: what is off the finest becomes less with each.
#[test]
fn finer_grids_come_to_one_answer() {
    let models: Vec<Model> = drawn().into_iter().map(|(model, _)| model).collect();
    let [_, .., finest] = GRIDS;
    let answers: Vec<[f64; 2]> = models.iter().map(|model| solved(model, finest)).collect();
    let mut off = Vec::new();
    for fineness in GRIDS.iter().take(GRIDS.len() - 1) {
        let mut most = [0.0_f64; 2];
        let mut corners = 0;
        let start = std::time::Instant::now();
        for (model, answer) in models.iter().zip(&answers) {
            let [heat, factor] = solved(model, *fineness);
            most[0] = most[0].max((heat / answer[0] - 1.0).abs());
            most[1] = most[1].max((factor - answer[1]).abs());
            let body = model.body(*fineness);
            corners += body.xs.len() * body.ys.len();
        }
        eprintln!(
            "{} mm, cells {} times wider: {} corners, heat within {:.5}, f within {:.5}, {:.2} ms a section",
            fineness.beside,
            fineness.growth,
            corners / models.len(),
            most[0],
            most[1],
            1000.0 * start.elapsed().as_secs_f64() / models.len() as f64
        );
        off.push(most);
    }
    for (coarse, fine) in off.iter().zip(off.iter().skip(1)) {
        assert!(fine[0] < coarse[0] && fine[1] < coarse[1], "{off:?}");
    }
}

// λ of EPDM as of a setting block, W/(m K): EN ISO 10077-2, annex A (from memory).
#[test]
fn a_setting_block_hardly_tells() {
    let mut runner = TestRunner::deterministic();
    let mut more = [(f64::INFINITY, f64::NEG_INFINITY); 2];
    for _ in 0..20 {
        let (measured, _, coated, spacer) = sash().new_tree(&mut runner).unwrap().current();
        let sash = Sash::new(&measured).unwrap();
        let fit = fit(&sash, &Workshop::default()).unwrap();
        let cross = Cross::new(&sash, &fit, Part::Member(Side::Bottom));
        let emits = if coated { corrected(0.03).unwrap() } else { UNCOATED };
        let filling = Filling::in_air(Gas::Argon, 0.9).unwrap();
        let glazing = Glazing::of(&measured.unit.build_up, filling, emits).unwrap().unwrap();
        let between = Model::after(&cross, &glazing, spacer);
        let mut at = between.clone();
        let blocks = cross.glazing(GLASS_SHOWN).blocks;
        assert_eq!(blocks.len(), 1);
        at.lay(blocks[0], 0.25);
        let [between, at] = [between, at].map(|model| solved(&model, FINENESS));
        for (more, by) in more.iter_mut().zip([at[0] / between[0] - 1.0, at[1] - between[1]]) {
            *more = (more.0.min(by), more.1.max(by));
        }
    }
    eprintln!("at a block, least and most: heat by {:.4?}, f by {:.4?}", more[0], more[1]);
    assert!(more.iter().all(|(least, most)| *least > -0.01 && *most < 0.01), "{more:?}");
}
