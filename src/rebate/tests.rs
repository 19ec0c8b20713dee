use super::*;
use crate::fit;
use crate::geometry::{Arc, Edge, PerSide, Sided, THINNEST};
use crate::sash::tests::{casement, wood_at};
use crate::survey::{self, BarsAs, OldGlazing, Runs};
use approx::assert_relative_eq;
use kurbo::{Size, Vec2};
use proptest::prelude::*;
use std::f64::consts::FRAC_PI_4;

fn divided(survey: &crate::survey::Sash) -> (Sash, Rebate) {
    let sash = Sash::new(survey).unwrap();
    let fit = fit::fit(&sash, &crate::survey::Workshop::default()).unwrap();
    let rebate = divide(&sash, &fit, 6.0).unwrap();
    (sash, rebate)
}

fn volume(solids: &[Solid]) -> f64 {
    solids.iter().map(Solid::volume).sum()
}

// By hand: the ring between walls down to the platform less the old rebate, and the bars.
#[test]
fn the_wood_that_goes_is_ring_and_bars() {
    let (_, rebate) = divided(&casement());
    let ring = 848.0 * 960.0 - 820.0 * 930.0;
    let old = 838.0 * 948.0 - 820.0 * 930.0;
    let webs = 2.0 * 4.0 * 948.0 * 17.0;
    let platforms = 2.0 * 22.0 * 930.0 * 10.0;
    assert_relative_eq!(
        volume(&rebate.go),
        ring * 27.0 - old * 17.0 + webs + platforms,
        max_relative = 1e-12
    );
    assert_eq!(rebate.pockets.len(), 1);
    assert_relative_eq!(rebate.platform, -27.0);
}

#[test]
fn go_and_stay_are_the_whole_sash() {
    let mut grooved = casement();
    grooved.members.top.old = OldGlazing::Groove { from_face: 10.0, width: 5.0, depth: 8.0 };
    let mut lights = casement();
    lights.bars_as = BarsAs::UnitPerLight;
    lights.unit.cover = 5.0;
    for survey in [casement(), grooved, lights] {
        let (sash, rebate) = divided(&survey);
        let all: Vec<&Solid> = rebate.go.iter().chain(&rebate.stay).collect();
        // A grid that no boundary of these sashes falls on.
        for step_x in 0..97 {
            for step_y in 0..97 {
                let at = sash.outer.origin()
                    + Vec2::new(
                        f64::from(step_x) * 9.517 + 0.31,
                        f64::from(step_y) * 10.913 + 0.31,
                    );
                let wood = wood_at(&sash, at)
                    .map_or(0.0, |(_, wood)| wood.iter().map(|s| s.top - s.bottom).sum::<f64>());
                let held: f64 = all
                    .iter()
                    .filter(|solid| solid.region.contains(at))
                    .map(|solid| solid.top - solid.bottom)
                    .sum();
                assert_relative_eq!(held, wood, epsilon = 1e-9);
            }
        }
    }
}

// A stile of 120 mm beside a head of 50 mm that springs from it at 37 degrees: grown by so different widths, the two
// miss each other and a shoulder joins them, while their old rebates meet in a mitre. All the wood is the ring between
// daylight and outer edges less the open old rebates, each place once.
#[test]
fn a_wide_stile_ends_with_a_shoulder_at_an_arch() {
    let mut survey = casement();
    survey.bars.clear();
    let at = |x: f64, y: f64| Point::new(x, y);
    let head = Arc::from_bulge(at(400.0, 600.0), at(0.0, 600.0), 0.5).unwrap();
    let lines = [
        [at(0.0, 600.0), at(0.0, 0.0)],
        [at(0.0, 0.0), at(400.0, 0.0)],
        [at(400.0, 0.0), at(400.0, 600.0)],
    ];
    let edges = lines.map(|[from, to]| Edge::line(from, to)).into_iter().chain([Edge::Arc(head)]);
    survey.outline = Some(Sided::by_direction(Outline::new(edges.collect()).unwrap()));
    survey.sight = survey.outline.as_ref().unwrap().bounds().size();
    let old = OldGlazing::Rebate { width: 12.0, depth: 17.0 };
    let widths = PerSide { left: 120.0, right: 50.0, bottom: 70.0, top: 50.0 };
    let model = survey.members.left.clone();
    survey.members =
        widths.map(|width| survey::Member { width: *width, thickness: 50.0, old, ..model.clone() });
    let (sash, rebate) = divided(&survey);
    assert!(sash.outer_outline.edges().count() > sash.outline.edges().count());
    let area = |sided: &Sided| sided.outline().area();
    let open = area(&sash.outline.grow(&PerSide::all(12.0)).unwrap()) - area(&sash.outline);
    let ring = area(&sash.outer_outline) - area(&sash.outline);
    let found = volume(&rebate.go) + volume(&rebate.stay);
    assert_relative_eq!(found, 50.0 * ring - 17.0 * open, max_relative = 1e-9);
}

#[test]
fn a_fillet_that_may_stay_has_the_closed_form_area() {
    let (_, rebate) = divided(&casement());
    assert_eq!(rebate.may_go.len(), 4);
    for solid in &rebate.may_go {
        // R²(1 − π/4).
        assert_relative_eq!(solid.region.area(), 36.0 * (1.0 - FRAC_PI_4), epsilon = 1e-9);
    }
    let (sash, fit) = (
        Sash::new(&casement()).unwrap(),
        fit::fit(&Sash::new(&casement()).unwrap(), &crate::survey::Workshop::default()).unwrap(),
    );
    assert!(divide(&sash, &fit, 12.0).unwrap().may_go.is_empty());
}

/// What was measured of a rectangular sash, by side left, right, bottom, top.
#[derive(Debug, Clone)]
struct Square {
    sight: [f64; 2],
    /// Width, thickness, width and depth of the old rebate.
    members: [[f64; 4]; 4],
    /// Cover, tape, and the gap by side.
    cover: f64,
    tape: f64,
    gaps: [f64; 4],
    /// Number, width, width and depth of the old rebate, thickness: uprights, then cross bars.
    bars: [(u32, [f64; 4]); 2],
}

impl Square {
    fn survey(&self, bars_as: BarsAs) -> survey::Sash {
        let mut survey = casement();
        survey.sight = Size::new(self.sight[0], self.sight[1]);
        let member = |[width, thickness, old, depth]: [f64; 4]| survey::Member {
            width,
            thickness,
            old: OldGlazing::Rebate { width: old, depth },
            ..survey.members.left.clone()
        };
        let [left, right, bottom, top] = self.members.map(member);
        survey.members = PerSide { left, right, bottom, top };
        let [left, right, bottom, top] = self.gaps;
        survey.clearance = PerSide { left, right, bottom, top };
        (survey.unit.cover, survey.unit.tape) = (self.cover, self.tape);
        let model = survey.bars[0].clone();
        survey.bars.clear();
        for ((runs, length), (count, [width, rebate_width, rebate_depth, thickness])) in
            [Runs::Upright, Runs::Cross].into_iter().zip(self.sight).zip(self.bars)
        {
            survey.bars.extend((1..=count).map(|index| survey::Bar {
                runs,
                centre: length * f64::from(index) / f64::from(count + 1),
                width,
                rebate_width,
                rebate_depth,
                thickness,
                ..model.clone()
            }));
        }
        survey.bars_as = bars_as;
        survey
    }

    /// Sight edge to wall beside a part with an old rebate of that width.
    fn wall(&self, side: usize, old: f64) -> f64 {
        (self.cover + self.tape + self.gaps[side]).max(old)
    }

    /// What is open of the old rebates of two sides and of the corner between them, down to `depth`.
    fn corner(&self, a: usize, b: usize, depth: f64) -> f64 {
        let ([_, _, a, deep], [_, _, b, other]) = (self.members[a], self.members[b]);
        a * b * deep.min(other).min(depth)
    }

    /// All the wood down to `depth` within `reach` of the daylight, by side: frame, less its old rebates but where
    /// webs fill them, and the bars.
    fn wood(&self, depth: f64, frame: f64) -> f64 {
        let [width, height] = self.sight;
        let along = [height, height, width, width];
        let across = [1, 1, 0, 0];
        let rebates: f64 = (0..4)
            .map(|side| {
                let [_, _, old, deep] = self.members[side];
                let (count, [bar, rebate, ..]) = self.bars[across[side]];
                let webs = f64::from(count) * (bar - 2.0 * rebate);
                old * deep.min(depth) * (along[side] - webs)
            })
            .sum();
        let corners: f64 =
            [(0, 2), (2, 1), (1, 3), (3, 0)].map(|(a, b)| self.corner(a, b, depth)).iter().sum();
        let [(uprights, own), (crosses, other)] = self.bars;
        let (uprights, crosses) = (f64::from(uprights), f64::from(crosses));
        // Of a bar as long as that: its web to the face, its cheeks from the old platform down.
        let bar = |[bar, rebate, deep, thick]: [f64; 4], length: f64| {
            let down = thick.min(depth);
            length * ((bar - 2.0 * rebate) * down + 2.0 * rebate * (down - deep).max(0.0))
        };
        let free = width - uprights * own[0];
        // A cross bar's web runs on through the cheeks of the uprights.
        let through = 2.0 * own[1] * (other[0] - 2.0 * other[1]) * own[2].min(depth);
        let crossings = uprights * crosses * through;
        frame - rebates - corners
            + uprights * bar(own, height)
            + crosses * bar(other, free)
            + crossings
    }
}

/// A sash whose every measure differs.
fn squares(crosses: std::ops::Range<u32>) -> impl Strategy<Value = Square> {
    let member = || (45.0..70.0, 48.0..60.0, 5.0..13.0, 8.0..20.0);
    let members = [member(), member(), member(), member()];
    let gaps = [0.5..5.0, 0.5..5.0, 0.5..5.0, 0.5..6.0_f64];
    let bar = || (16.0..26.0, 5.0..7.5, 9.0..18.0, 46.0..50.0);
    let bars = ((0..4_u32, bar()), (crosses, bar()));
    (300.0..900.0, 300.0..1200.0, members, 3.0..16.0, 0.0..4.0, gaps, bars).prop_map(
        |(width, height, members, cover, tape, gaps, ((uprights, own), (crosses, other)))| {
            let four = |(a, b, c, d)| [a, b, c, d];
            let bars = [(uprights, four(own)), (crosses, four(other))];
            Square { sight: [width, height], members: members.map(four), cover, tape, gaps, bars }
        },
    )
}

proptest! {
    // Closed forms: what goes is the frame out to the walls and the bars, down to the platform; all the wood is
    // the stiles over their whole height, the rails between them and the bars, less the old rebates.
    #[test]
    fn one_unit_takes_the_wood_of_the_formula(square in squares(0..3)) {
        let (_, rebate) = divided(&square.survey(BarsAs::OneUnit));
        let ([width, height], depth) = (square.sight, -rebate.platform);
        let wall: Vec<f64> = (0..4).map(|side| square.wall(side, square.members[side][2])).collect();
        let ring = (width + wall[0] + wall[1]) * (height + wall[2] + wall[3]) - width * height;
        let goes = square.wood(depth, ring * depth);
        // A new wall may miss an old one by a hair: slivers that thin are left out.
        let thickest = square.members.iter().map(|member| member[1]).fold(0.0, f64::max);
        let slivers = 2.0 * (width + height) * THINNEST * thickest;
        let found = volume(&rebate.go);
        prop_assert!((found - goes).abs() < 1e-9 * goes + slivers, "{found} {goes}");
        let [left, right, bottom, top] = square.members;
        let over = height + bottom[0] + top[0];
        let frame = over * (left[0] * left[1] + right[0] * right[1])
            + width * (bottom[0] * bottom[1] + top[0] * top[1]);
        let all = square.wood(f64::INFINITY, frame);
        let found = volume(&rebate.go) + volume(&rebate.stay);
        prop_assert!((found - all).abs() < 1e-9 * all + slivers, "{found} {all}");
    }

    // A unit in each light, its wall hidden behind bars: light by light, what the wall adds to it, less the old
    // rebates of what is beside it.
    #[test]
    fn units_behind_bars_take_the_wood_of_the_formula(square in squares(0..1)) {
        let (count, [bar, rebate, deep, _]) = square.bars[0];
        let light = (square.sight[0] - f64::from(count) * bar) / f64::from(count + 1);
        // Walls of neighbours do not meet behind a bar.
        let square = Square { cover: square.cover.min(4.0), tape: square.tape.min(0.5), ..square };
        let gaps = square.gaps.map(|gap| gap.min(3.0));
        let square = Square { gaps, ..square };
        let (_, rebate_cut) = divided(&square.survey(BarsAs::UnitPerLight));
        let (height, depth) = (square.sight[1], -rebate_cut.platform);
        let mut goes = 0.0;
        for index in 0..=count {
            let ends = [(0, index == 0), (1, index == count)];
            let olds = ends.map(|(side, frame)| {
                let [_, _, width, deep_old] = square.members[side];
                if frame { (width, deep_old) } else { (rebate, deep) }
            });
            let wall = [0, 1].map(|side| square.wall(side, olds[side].0));
            let rails = [2, 3].map(|side| square.wall(side, square.members[side][2]));
            goes += depth * ((light + wall[0] + wall[1]) * (height + rails[0] + rails[1]) - light * height);
            for ((side, frame), (old, deep_old)) in ends.into_iter().zip(olds) {
                goes -= old * height * deep_old.min(depth);
                for rail in [2, 3] {
                    let [_, _, width, deep_rail] = square.members[rail];
                    // Beside the cheek of a bar the rail's old rebate is open as elsewhere.
                    let housed = old * width * deep_rail.min(depth);
                    goes -= if frame { square.corner(side, rail, depth) } else { housed };
                }
            }
            for rail in [2, 3] {
                let [_, _, width, deep_rail] = square.members[rail];
                goes -= light * width * deep_rail.min(depth);
            }
        }
        let found = volume(&rebate_cut.go);
        // A new wall may miss an old one by a hair, on both sides of every light: slivers that thin are left out.
        let slivers = 2.0 * f64::from(count + 1) * (light + height) * THINNEST * depth;
        prop_assert!((found - goes).abs() < 1e-9 * goes + slivers, "{found} {goes}");
    }
}
