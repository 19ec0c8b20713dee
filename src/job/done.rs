//! What was ordered, cut, delivered and glazed, held against what the survey now asks for.
//!
//! Promised: a size or a make-up that is not the one ordered is a stop, whatever has changed it; measures taken after
//! the cut say whether the unit still goes in and how high its blocks must be. Not promised: anything of what was not
//! written down.

use super::work::Work;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::UnitFit;
use crate::glass;
use crate::language::{Text, text};
use crate::sheets::kit::figure as length;
use crate::survey::{AsCut, DeliveredUnit, Done, Limit, OrderedUnit, Workshop};

/// Sizes are written down to a tenth of a millimetre, mm.
const WRITTEN: f64 = 0.05;

/// Everything that is found.
pub(super) fn judged(done: &Done, work: &Work, workshop: &Workshop) -> Vec<Finding> {
    let mut found: Vec<Finding> =
        done.ordered.iter().flat_map(|ordered| order(ordered, done, work)).collect();
    if let Some(cut) = &done.cut {
        found.extend(depth(cut, done, work, workshop));
        if let [unit] = work.fit.units.as_slice() {
            found.extend(openings(cut, unit, done, work, workshop));
        }
    }
    found
}

/// `done.order`: the unit that the survey asks for is the one that was ordered.
fn order(ordered: &OrderedUnit, done: &Done, work: &Work) -> Vec<Finding> {
    let OrderedUnit { light, on, size, build_up } = ordered;
    let was = format!("{} x {}", length(size.width), length(size.height));
    // Whoever has glazed it already wants to know.
    let glazed = |text: Text| match &done.glazed {
        Some(on) => text.and(text!("done-glazed", on)),
        None => text,
    };
    let none = || Bounds::stop(Bound::geometry(0.0));
    let count = |wrong: bool| Quantity { value: f64::from(u8::from(wrong)), unit: "" };
    let Some(unit) = work.fit.units.iter().find(|unit| unit.light == *light) else {
        let advice = |_, _| {
            let name = Text::name(light);
            glazed(text!("done-no-light", was, on, light = name))
        };
        return vec![Finding::at_most("done.order", light.as_str(), count(true), none(), advice)];
    };
    let off = (unit.order.width - size.width).abs().max((unit.order.height - size.height).abs());
    let now = format!("{} x {}", length(unit.order.width), length(unit.order.height));
    let advice = |verdict, _| match verdict {
        Verdict::Clear => text!("done-as-ordered", on),
        _ => glazed(text!("done-other-size", now, was, on)),
    };
    let even = Bounds::stop(Bound::geometry(WRITTEN));
    let mut found =
        vec![Finding::at_most("done.order", light.as_str(), Quantity::mm(off), even, advice)];
    let asked = &work.sash.measured.unit.build_up;
    if let Some(build_up) = build_up.as_ref().filter(|build_up| *build_up != asked) {
        let advice = |_, _| {
            let (asked, ordered) = (asked.to_string(), build_up.to_string());
            glazed(text!("done-other-make", asked, ordered, on))
        };
        found.push(Finding::at_most("done.order", light.as_str(), count(true), none(), advice));
    }
    found
}

fn delivered<'d>(done: &'d Done, light: &str) -> Option<&'d DeliveredUnit> {
    done.delivered.iter().find(|unit| unit.light == light)
}

/// `done.depth`: the rebate as it was cut takes bed and unit, and is no less deep than now asked for.
fn depth(cut: &AsCut, done: &Done, work: &Work, workshop: &Workshop) -> Option<Finding> {
    let (depth, on) = (cut.depth?, &cut.on);
    let measured = &work.sash.measured;
    let came = done.delivered.iter().filter_map(|unit| unit.thickness).reduce(f64::max);
    let thick = came.unwrap_or_else(|| glass::thickest(&measured.unit));
    // Below that the unit itself stands out of the face; below what is planned the bead does.
    let least = measured.finish.bed + thick;
    let wanted = work.fit.depth - workshop.allowances.cutting;
    let bounds = Bounds::new(Bound::geometry(least), &Limit::set(wanted.max(least)));
    let advice = |verdict, _| match verdict {
        Verdict::Stop => text!(
            "done-too-shallow",
            depth = length(depth),
            on,
            thick = length(thick),
            bed = length(measured.finish.bed)
        ),
        Verdict::Caution => text!(
            "done-shallow",
            depth = length(depth),
            on,
            wanted = length(work.fit.depth),
            left = length(depth - least),
            bead = length(work.fit.depth - least)
        ),
        Verdict::Clear => text!("done-deep", depth = length(depth)),
    };
    Some(Finding::at_least("done.depth", "whole sash", Quantity::mm(depth), bounds, advice))
}

/// `done.opening` and `done.blocks`: the unit goes in between the walls as they were cut, and on which blocks.
fn openings(
    cut: &AsCut,
    unit: &UnitFit,
    done: &Done,
    work: &Work,
    workshop: &Workshop,
) -> Vec<Finding> {
    let measured = &work.sash.measured;
    let (came, ordered) =
        (delivered(done, &unit.light), done.ordered.iter().find(|one| one.light == unit.light));
    let tape = 2.0 * measured.unit.tape;
    let size = ordered.map_or(unit.order, |ordered| ordered.size);
    let width = came.and_then(|came| came.width).unwrap_or(size.width) + tape;
    let height = came.and_then(|came| came.height).unwrap_or(size.height) + tape;
    let wanted = &measured.clearance;
    let both = wanted.left + wanted.right;
    let (on, cutting) = (&cut.on, workshop.allowances.cutting);
    let across = cut.width.map(|opening| {
        let bounds =
            Bounds::new(Bound::geometry(0.0), &Limit::set((both - 2.0 * cutting).max(0.0)));
        let gap = opening - width;
        let advice = |verdict, _| match verdict {
            Verdict::Stop => text!(
                "done-too-narrow",
                opening = length(opening),
                on,
                width = length(width),
                by = length(both - gap)
            ),
            Verdict::Caution => {
                text!("done-narrow", gap = length(gap), wanted = length(both))
            }
            Verdict::Clear => text!("done-wide", gap = length(gap)),
        };
        Finding::at_least("done.opening", unit.light.as_str(), Quantity::mm(gap), bounds, advice)
    });
    let up = cut.height.map(|opening| {
        let blocks = opening - height - wanted.top;
        let advice = |verdict, _| match verdict {
            Verdict::Stop => text!(
                "done-too-low",
                opening = length(opening),
                on,
                height = length(height),
                over = length(wanted.top),
                by = length(measured.block_height - blocks)
            ),
            _ => text!("done-blocks", blocks = length(blocks), over = length(wanted.top)),
        };
        let place = unit.light.as_str();
        let none = Bounds::stop(Bound::geometry(0.0));
        let fits = Finding::at_least("done.blocks", place, Quantity::mm(blocks), none, advice);
        let other = blocks - measured.block_height;
        if fits.verdict == Verdict::Stop || other.abs() <= cutting {
            return fits;
        }
        let key = if other > 0.0 { "done-thicker-blocks" } else { "done-thinner-blocks" };
        let advice = |_, _| {
            text!(
                key,
                blocks = length(blocks),
                planned = length(measured.block_height),
                by = length(other.abs()),
                opening = length(opening),
                on
            )
        };
        let care = Bounds::caution(&Limit::set(cutting));
        Finding::at_most("done.blocks", place, Quantity::mm(other.abs()), care, advice)
    });
    across.into_iter().chain(up).collect()
}
