//! A sash that cannot be worked out: no rebate of that width goes round its daylight, or not one step of
//! the order fits behind it.
//!
//! Promised: where the width that the unit or the old glass asks for is what fails, the widest that goes
//! round is measured and the place named; where the step is, the least size of a unit; where members are too unlike
//! to be joined, which. Any other error is told as it is: it stops this sash and no other.

use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit;
use crate::geometry::{OffsetError, PerSide, Side, Sided};
use crate::language::{Text, text};
use crate::rebate::Divided;
use crate::report::CannotBeCut;
use crate::sash::{Light, Sash};
use crate::survey::{self, BarsAs, Kind, Workshop};
use std::fmt;

/// Halvings of the way from nothing to the width asked for: to a millionth of it.
const HALVINGS: usize = 20;

/// What is found of `measured`, which ended in `error`.
pub(super) fn cannot_be_cut(measured: &survey::Sash, error: &impl fmt::Display) -> CannotBeCut {
    let finding = at_fault(measured).unwrap_or_else(|| unexplained(error));
    CannotBeCut {
        id: measured.id.clone(),
        kind: measured.kind.name(),
        verdict: finding.verdict,
        findings: vec![finding],
    }
}

/// The finding where Fillister itself cannot go on.
fn unexplained(error: &impl fmt::Display) -> Finding {
    let none = Bounds::stop(Bound::geometry(0.0));
    Finding::at_most(
        "job.unworked",
        "whole sash",
        Quantity { value: 1.0, unit: "" },
        none,
        |_, _| text!("job-unworked", error = error.to_string()),
    )
}

/// The daylight or the step, if either is at fault.
fn at_fault(measured: &survey::Sash) -> Option<Finding> {
    // Between bars and a curved head lights may be too pointed where the whole daylight is not.
    let sash = Sash::new(measured).ok();
    let lights = sash.as_ref().map(|sash| sash.lights.clone()).unwrap_or_default();
    let step = below_a_step(measured, &lights);
    let lights = lights.into_iter().map(|light| (light.outline, light.name));
    let whole = measured.outline.clone().map(|outline| (outline, "whole sash".to_owned()));
    let outlines: Vec<(Sided, String)> = whole.into_iter().chain(lights).collect();
    let old = measured.members.map(|member| member.old.width());
    let finding = outlines.iter().find_map(|(outline, name)| {
        let asked = || fit::rebate_width(measured);
        let new = sash.as_ref().map_or_else(asked, |sash| fit::wall_growth(sash, outline).by);
        let finding =
            [&new, &old].into_iter().find_map(|width| too_wide(outline, measured.kind, width))?;
        Some(Finding {
            place: text!("list-comma", one = Text::name(name), other = &finding.place),
            ..finding
        })
    });
    finding.or(step).or_else(|| unlike(measured))
}

/// The finding where members join along no mitre, since they differ too much, beside an edge that bends: with all of
/// them like one of them, the same daylight has its cut.
fn unlike(measured: &survey::Sash) -> Option<Finding> {
    let goes = |side: Side| {
        let like = measured.members.get(side);
        let alike =
            survey::Sash { members: measured.members.map(|_| like.clone()), ..measured.clone() };
        let sash = Sash::new(&alike).ok()?;
        let units = fit::seats(&sash).ok()?;
        Divided::new(&sash, &units, Workshop::default().cutter.radius(), None).ok()
    };
    Side::ALL.into_iter().find_map(goes)?;
    let outline = measured.outline.as_ref()?;
    let sides: Vec<Side> = outline.edges().map(|(_, side)| side).collect();
    let next = sides.iter().cycle().skip(1);
    let differ = |a: Side, b: Side| {
        let [a, b] = [a, b].map(|side| measured.members.get(side));
        (a.width - b.width).abs().max((a.old.width() - b.old.width()).abs())
    };
    let corners = sides.iter().zip(next).map(|(&a, &b)| (a, b, differ(a, b)));
    let (a, b, by) = corners.max_by(|x, y| x.2.total_cmp(&y.2))?;
    let [place, other] = [a, b].map(|side| measured.kind.member_name(side));
    let bounds = Bounds::stop(Bound::geometry(0.0));
    Some(Finding::at_most(
        "rebate.unlike",
        text!("list-and", one = Text::name(place), other = Text::name(other)),
        Quantity::mm(by),
        bounds,
        |_, _| text!("job-unlike"),
    ))
}

/// The finding where a unit, rounded down to the step of the order, has no size.
fn below_a_step(measured: &survey::Sash, lights: &[Light]) -> Option<Finding> {
    let unit = &measured.unit;
    let whole = ("whole sash", measured.sight.min_side());
    let each = lights.iter().map(|light| (light.name.as_str(), light.sight.size().min_side()));
    let seen: Vec<(&str, f64)> = match measured.bars_as {
        BarsAs::OneUnit => vec![whole],
        BarsAs::UnitPerLight => each.collect(),
    };
    let mut sizes = seen.into_iter().map(|(name, sight)| (name, sight + 2.0 * unit.cover));
    let (name, size) = sizes.find(|(_, size)| *size < unit.order_step)?;
    Some(Finding {
        rule: "fit.order-step",
        place: Text::name(name),
        measured: Quantity::mm(size),
        limit: Quantity::mm(unit.order_step),
        verdict: Verdict::Stop,
        advice: text!("job-below-step"),
        basis: Basis::Setting,
    })
}

/// The finding where a rebate of these widths cannot go round `outline`.
fn too_wide(outline: &Sided, kind: Kind, width: &PerSide<f64>) -> Option<Finding> {
    let fails = outline.grow(width).err()?;
    let widest = width.iter().map(|(_, width)| *width).fold(0.0_f64, f64::max);
    let (mut goes, mut not) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let share = 0.5 * (goes + not);
        if outline.grow(&width.map(|width| share * width)).is_ok() {
            goes = share;
        } else {
            not = share;
        }
    }
    // Where it only just fails there is one edge at fault.
    let first = outline.grow(&width.map(|width| not * width)).err().unwrap_or(fails);
    Some(Finding {
        rule: "rebate.round-daylight",
        place: place(outline, kind, first),
        measured: Quantity::mm(goes * widest),
        limit: Quantity::mm(widest),
        verdict: Verdict::Stop,
        advice: text!("job-round-daylight"),
        basis: Basis::Geometry,
    })
}

/// The edge at fault by where it begins.
fn place(outline: &Sided, kind: Kind, error: OffsetError) -> Text {
    let index = match error {
        OffsetError::Collapsed(index)
        | OffsetError::Apart(index)
        | OffsetError::Crosses(index, _) => Some(index),
        OffsetError::Distances => None,
    };
    let edge = index.and_then(|index| outline.edges().nth(index));
    edge.map_or_else(
        || text!("place-daylight"),
        |(edge, side)| {
            let from = edge.start();
            let [x, y] = [from.x, from.y].map(|at| format!("{at:.1}"));
            text!("place-sight-edge", member = Text::name(kind.member_name(side)), x, y)
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Edge, free};
    use approx::assert_relative_eq;
    use kurbo::Point;

    /// A daylight whose upper edge bends into it: R as asked, 120 wide.
    fn bent_in(radius: f64) -> Sided {
        let corners =
            [(0.0, 0.0), (300.0, 0.0), (300.0, 400.0), (210.0, 400.0), (90.0, 400.0), (0.0, 400.0)];
        let corners = corners.map(Point::from);
        let half: f64 = 60.0;
        let rise = radius - (radius * radius - half * half).sqrt();
        let edges = (0..6).map(|at| {
            let (from, to) = (corners[at], corners[(at + 1) % 6]);
            let bulge = if at == 3 { -rise / half } else { 0.0 };
            Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
        });
        free(edges.collect()).unwrap()
    }

    // Closed form: an arc that bends into the daylight shrinks by as much as the wall goes out. Over a nearly
    // half round one of radius 61 the ends of the arc come together before.
    #[test]
    fn the_widest_that_goes_round_is_measured() {
        let outline = bent_in(61.0);
        let wide = PerSide::from_fn(|_| 80.0);
        let finding = too_wide(&outline, Kind::Fixed, &wide).unwrap();
        assert_eq!(finding.verdict, Verdict::Stop);
        assert_relative_eq!(finding.limit.value, 80.0);
        let most = finding.measured.value;
        assert!(most > 1.0 && most <= 61.0, "{most}");
        assert!(outline.grow(&PerSide::from_fn(|_| most - 1e-3)).is_ok());
        assert!(outline.grow(&PerSide::from_fn(|_| most + 1e-3)).is_err());
        assert!(finding.place.to_string().contains("sight edge from X"), "{}", finding.place);
        assert_eq!(too_wide(&outline, Kind::Fixed, &PerSide::from_fn(|_| 0.5 * most)), None);
    }

    // By hand: a sight of 80 by 60 mm and 6 mm of cover make a unit of 72 mm at the least; steps of 50 fit it,
    // steps of 100 do not.
    #[test]
    fn a_unit_below_a_step_of_the_order_is_a_finding() {
        let least = include_str!("../../fixtures/survey/good/least.toml");
        let mut sash = survey::read(least, "least.toml").unwrap().sashes[0].clone();
        (sash.sight, sash.outline) = (kurbo::Size::new(80.0, 60.0), None);
        (sash.unit.cover, sash.unit.order_step) = (6.0, 100.0);
        assert!(crate::job::Work::new(&sash, &survey::Workshop::default()).is_err());
        let finding = at_fault(&sash).unwrap();
        assert_eq!((finding.rule, finding.measured.value), ("fit.order-step", 72.0));
        assert_eq!((finding.limit.value, finding.verdict), (100.0, Verdict::Stop));
        sash.unit.order_step = 50.0;
        assert!(at_fault(&sash).is_none());
    }

    // The reader of surveys refuses such a daylight; one that gets past it must not stop the others.
    #[test]
    fn the_other_sashes_of_the_house_are_still_made() {
        let least = include_str!("../../fixtures/survey/good/least.toml");
        let mut house = survey::read(least, "least.toml").unwrap();
        let bent = bent_in(61.0);
        let sight = bent.bounds().size();
        let bad = survey::Sash {
            id: "bent".to_owned(),
            sight,
            outline: Some(bent),
            ..house.sashes[0].clone()
        };
        let good = super::super::make(&house).unwrap();
        house.sashes.insert(0, bad);
        for cover in [40.0, 61.0] {
            house.sashes[0].unit.cover = cover;
            let made = super::super::make(&house).unwrap();
            assert_eq!(made.report.sashes, good.report.sashes);
            let [left] = &made.report.cannot_be_cut[..] else { panic!("one is left") };
            assert_eq!((left.id.as_str(), made.report.verdict), ("bent", Verdict::Stop));
            assert!(made.files.keys().all(|name| !name.starts_with("bent/")));
            let summary = std::str::from_utf8(&made.files["summary.txt"]).unwrap();
            assert!(summary.contains("bent (fixed): NO") && summary.contains("goes round here"));
        }
        // The tape of a unit makes its rebate wider as its cover does.
        (house.sashes[0].unit.cover, house.sashes[0].unit.tape) = (34.0, 6.0);
        let taped = super::super::make(&house).unwrap().report.cannot_be_cut;
        (house.sashes[0].unit.cover, house.sashes[0].unit.tape) = (40.0, 0.0);
        assert_eq!(taped, super::super::make(&house).unwrap().report.cannot_be_cut);
    }
}
