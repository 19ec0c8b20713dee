//! Judgements of where a unit sits: gaps, blocks, what shows, corners, packing.

use super::crooked::wider_than_shaped;
use super::seat::{reach, rebate_width, seats, sits_low};
use super::{Fit, UnitFit};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict, down_to_tenth, up_to_tenth};
use crate::geometry::{COINCIDENT, PerSide, Side};
use crate::glass::Tape;
use crate::language::{Text, text};
use crate::sash::Sash;
use crate::survey::{Limits, Runs, UnitShape, most_block_height};
use kurbo::Vec2;

/// Where no corner limits the cutter, it is reported as this radius, mm.
const LARGEST_CUTTER: f64 = 1000.0;

/// Judges every unit of `fit`, for a cutter of a radius, mm, or a thinner one that goes into corners alone.
pub(super) fn judge(sash: &Sash, fit: &Fit, limits: &Limits, cutter: (f64, bool)) -> Vec<Finding> {
    let mut findings = Vec::new();
    for unit in &fit.units {
        findings.push(clearance(sash, unit, limits));
        findings.push(blocks(sash, unit, limits));
        findings.push(spacer_shows(sash, unit, limits));
        findings.extend(bar_shows(sash, unit, limits));
        findings.extend(no_internal_bar(sash));
        findings.push(corner(unit, cutter));
        findings.push(packing(sash, unit, fit.depth));
        findings.extend(taper(sash, unit, limits));
        findings.extend(super::published::judge(sash, unit, limits));
    }
    findings.extend(super::measures::judge(sash, limits));
    findings.extend(super::warp::judge(sash, fit, limits));
    findings
}

/// The side with the least value, and the value. Of sides that differ by rounding only the first is
/// named, so that a survey in inches names the same.
fn least(values: &PerSide<f64>) -> (Side, f64) {
    let least = values.iter().map(|(_, &value)| value).fold(f64::INFINITY, f64::min);
    let first = values.iter().find(|(_, value)| **value <= least + COINCIDENT);
    (first.map_or(Side::Left, |(side, _)| side), least)
}

/// The least gap round the resting unit. At the bottom the blocks are the gap.
fn clearance(sash: &Sash, unit: &UnitFit, limits: &Limits) -> Finding {
    let (side, gap) = least(&unit.clearance.map(|gap| gap.least));
    Finding::at_least(
        "fit.clearance",
        format!("{}, {side}", unit.light),
        Quantity::mm(gap),
        Bounds::new(&limits.clearance_stop, &limits.clearance_caution),
        |verdict, bound| {
            if verdict == Verdict::Clear {
                return text!("fit-room-to-move");
            }
            let least = format!("{:.1}", up_to_tenth(bound));
            match Tape::of(&sash.measured.unit) {
                None => text!("fit-clearance", least),
                Some(tape) => {
                    text!("fit-clearance-with-tape", least, tape = tape.remark())
                }
            }
        },
    )
}

fn blocks(sash: &Sash, unit: &UnitFit, limits: &Limits) -> Finding {
    Finding::at_least(
        "fit.blocks",
        unit.light.clone(),
        Quantity::mm(sash.measured.block_height),
        Bounds::new(&limits.block_stop, &limits.block_caution),
        |verdict, bound| match verdict {
            Verdict::Clear => text!("fit-blocks-clear"),
            _ => text!("fit-blocks", least = format!("{:.1}", up_to_tenth(bound))),
        },
    )
}

/// The thinnest cutter that is advised, mm. Common practice, no source.
const THINNEST_CUTTER: f64 = 2.0;

/// The lowest spacer and seal that is advised, mm. Common practice, no source.
const LOWEST_SPACER: f64 = 5.0;

/// Most covers that are tried before the last of them is told.
const MOST_COVERS: u32 = 8;

/// How much of the spacer stands in the daylight, at its worst side.
fn spacer_shows(sash: &Sash, unit: &UnitFit, limits: &Limits) -> Finding {
    // Cover counts the tape, so the seal's inner edge lies at tape plus spacer.
    let needed = sash.measured.unit.spacer_height + sash.measured.unit.tape;
    let (side, cover) = least(&unit.cover.map(|cover| cover.least));
    let shows = (needed - cover).max(0.0);
    Finding::at_most(
        "fit.spacer-shows",
        format!("{}, {side}", unit.light),
        Quantity::mm(shows),
        Bounds::new(&limits.shows_stop, &limits.shows_caution),
        |verdict, _| match verdict {
            Verdict::Clear => text!("fit-spacer-hides"),
            _ => hide_spacer(sash, unit, needed),
        },
    )
}

/// The least cover of the unit once it is lifted by so much, mm.
fn lifted_cover(unit: &UnitFit, by: f64) -> f64 {
    let covers = unit.outlines.sight.gaps_to(&unit.outlines.unit.moved(Vec2::new(0.0, by)));
    least(&covers.map(|cover| cover.least)).1
}

/// Which block height hides the spacer at top and bottom, or why none does.
fn hide_spacer(sash: &Sash, unit: &UnitFit, needed: f64) -> Text {
    let now = sash.measured.block_height;
    // Each mm of block lifts the unit by 1 mm: cover moves from the bottom to the top.
    let (cover, above) = (unit.cover.map(|cover| cover.least), unit.clearance.top.least);
    let least = now + needed - cover.top;
    let most = now + (cover.bottom - needed).min(above);
    let measured = &sash.measured;
    let spare = |side| measured.members.get(side).old.width() - reach(&measured.unit);
    let most = most.min(most_block_height(&measured.clearance, spare));
    let across = cover.left.min(cover.right);
    let sideways = across < needed - COINCIDENT;
    if !sideways && least <= most + COINCIDENT && most >= 0.0 {
        let (most, to) = (most.max(least), now.clamp(least.max(0.0), most.max(least)));
        let lowered = to < now;
        // What is told in tenths must do as it is told.
        let mut cure = if lowered { down_to_tenth(to) } else { up_to_tenth(to) };
        while (least - COINCIDENT..=most + COINCIDENT).contains(&cure) {
            let short = needed - lifted_cover(unit, cure - now);
            if short <= COINCIDENT {
                return text!("fit-blocks-hide-spacer", cure = format!("{cure:.1}"));
            }
            // Under a slanting or arched edge a mm of block gives less than a mm of cover.
            let by = up_to_tenth(short).max(0.1);
            cure += if lowered { -by } else { by };
        }
        // Each needs a tenth less then, and a whole tenth may lie between.
        let cure = up_to_tenth(least - 0.1);
        if lifted_cover(unit, cure - now) >= needed - 0.1 - COINCIDENT {
            return text!("fit-lower-spacer", cure = format!("{cure:.1}"));
        }
    }
    // On the blocks as they are.
    let short = needed - across.min(cover.top).min(cover.bottom);
    let more = enough_cover(sash, unit, needed, short);
    let lower = up_to_tenth(short).max(0.1);
    let more = format!("{more:.1}");
    if sash.measured.unit.spacer_height - lower >= LOWEST_SPACER {
        return text!("fit-more-cover-or-lower", more, lower = format!("{lower:.1}"));
    }
    text!("fit-more-cover", more)
}

/// The cover to order, mm, at which the unit covers `needed` on every side, where it is `short` now. Each mm gives
/// one all round, but for how the unit then comes to rest: that is looked at.
fn enough_cover(sash: &Sash, unit: &UnitFit, needed: f64, mut short: f64) -> f64 {
    // The order is rounded down to whole steps; a whole number of them more comes through.
    let step = sash.measured.unit.order_step / 2.0;
    let more = |cover: f64, short: f64| {
        up_to_tenth(cover + (short / step - COINCIDENT).ceil().max(1.0) * step)
    };
    let mut asked = sash.clone();
    let mut cover = more(asked.measured.unit.cover, short);
    // A shaped unit grows evenly about where it is, and to seat it again takes its time.
    let looked_at = asked.measured.unit.shape == UnitShape::Square;
    for _ in 0..if looked_at { MOST_COVERS } else { 0 } {
        asked.measured.unit.cover = cover;
        let seated = seats(&asked).unwrap_or_default();
        let Some(unit) = seated.iter().find(|seated| seated.light == unit.light) else { break };
        short = needed - lifted_cover(unit, 0.0);
        if short <= COINCIDENT {
            break;
        }
        cover = more(cover, short);
    }
    cover
}

/// How much of an internal bar stands beside its glazing bar.
fn bar_shows(sash: &Sash, unit: &UnitFit, limits: &Limits) -> Vec<Finding> {
    let low = sits_low(unit);
    unit.bars
        .iter()
        .map(|internal| {
            let bar = &internal.bar.measured;
            let shift = match bar.runs {
                Runs::Upright => 0.0,
                Runs::Cross => low.abs(),
            };
            let shows = (internal.width / 2.0 + shift + internal.off - bar.width / 2.0).max(0.0);
            Finding::at_most(
                "fit.bar-shows",
                internal.bar.name(),
                Quantity::mm(shows),
                Bounds::new(&limits.shows_stop, &limits.shows_caution),
                |verdict, _| match verdict {
                    Verdict::Clear => text!("fit-bar-hides"),
                    _ if internal.off > COINCIDENT => {
                        text!("fit-bar-leans", off = format!("{:.1}", 2.0 * internal.off))
                    }
                    _ if internal.width > bar.width => text!(
                        "fit-narrower-bar",
                        width = format!("{:.1}", down_to_tenth(bar.width))
                    ),
                    _ => text!(
                        "fit-blocks-lift-bars",
                        height = format!("{:.1}", sash.measured.block_height + low)
                    ),
                },
            )
        })
        .collect()
}

/// One unit behind a bar that curves or ends on another: no straight internal bar lies behind it.
fn no_internal_bar(sash: &Sash) -> Vec<Finding> {
    let own = sash.cut_bars().iter().filter(|bar| !bar.through);
    let count = |value| Quantity { value, unit: "" };
    let wanted = Bound::common_practice(1.0);
    let found = own.map(|bar| {
        let bounds = Bounds::caution(wanted.clone());
        let advice = |_, _| text!("fit-no-bar-behind");
        Finding::at_least("fit.internal-bar", bar.name(), count(0.0), bounds, advice)
    });
    found.collect()
}

/// Whether the unit's corners clear the fillets of a cutter of `radius`, mm, or of a `thinner` one that goes into them.
fn corner(unit: &UnitFit, (radius, thinner): (f64, bool)) -> Finding {
    let largest = unit.largest_cutter.min(LARGEST_CUTTER);
    Finding::at_most(
        "fit.corner",
        unit.light.clone(),
        Quantity::mm(radius),
        Bounds::caution(Bound::geometry(largest)),
        |verdict, bound| match verdict {
            Verdict::Clear => text!("fit-corners-clear"),
            _ if 2.0 * bound < THINNEST_CUTTER => text!("fit-chisel"),
            _ if thinner => text!(
                "fit-chisel-or-thinner",
                diameter = format!("{:.1}", down_to_tenth(2.0 * bound))
            ),
            _ => text!(
                "fit-chisel-or-cutter",
                diameter = format!("{:.1}", down_to_tenth(2.0 * bound))
            ),
        },
    )
}

/// An old platform deeper than the unit needs wants packing.
fn packing(sash: &Sash, unit: &UnitFit, depth: f64) -> Finding {
    let (side, up) =
        least(&PerSide::from_fn(|side| -sash.neighbour(&unit.outlines.sight, side).1.depth()));
    let old = -up;
    Finding::at_most(
        "fit.packing",
        format!("{}, {side}", unit.light),
        Quantity::mm(old),
        Bounds::caution(Bound::geometry(depth)),
        |verdict, bound| match verdict {
            Verdict::Clear => text!("fit-beds-evenly"),
            _ => text!("fit-pack", deeper = format!("{:.1}", old - bound)),
        },
    )
}

/// A rectangle behind a daylight out of square takes more wood at one end than at the other.
fn taper(sash: &Sash, unit: &UnitFit, limits: &Limits) -> Option<Finding> {
    let own = &unit.outlines;
    if own.sight.is_rectangle() || sash.measured.unit.shape != UnitShape::Square {
        return None;
    }
    let (side, extra) = wider_than_shaped(&unit.rebate_width, &rebate_width(&sash.measured));
    let turn = unit.turned();
    Some(Finding::at_most(
        "fit.taper",
        format!("{}, {side}", unit.light),
        Quantity::mm(extra),
        Bounds::caution(&limits.taper_caution),
        |verdict, _| {
            let turn = format!("{turn:.2}");
            match verdict {
                Verdict::Clear => text!("fit-tapers-little", turn),
                _ => text!("fit-tapers", turn, extra = format!("{extra:.1}")),
            }
        },
    ))
}

#[cfg(test)]
mod tests {
    use super::super::fit;
    use super::*;
    use crate::sash::tests::casement;
    use crate::survey::{self, Bar, Workshop};
    use approx::assert_relative_eq;

    fn found(survey: &survey::Sash, rule: &str) -> Finding {
        let fit = fit(&Sash::new(survey).unwrap(), &Workshop::default()).unwrap();
        fit.findings.into_iter().find(|finding| finding.rule == rule).unwrap()
    }

    #[test]
    fn a_usual_order_is_clear() {
        let fit = fit(&Sash::new(&casement()).unwrap(), &Workshop::default()).unwrap();
        assert!(fit.findings.iter().all(|f| f.verdict == Verdict::Clear), "{:#?}", fit.findings);
    }

    #[test]
    fn of_sides_that_differ_by_rounding_the_first_is_named() {
        let mut gaps = PerSide::all(2.0);
        gaps.top = 2.0_f64.next_down();
        assert_eq!(least(&gaps), (Side::Left, gaps.top));
        gaps.top = 1.9;
        assert_eq!(least(&gaps), (Side::Top, 1.9));
    }

    // Common practice, no source: 2 mm blocks in a 4 mm gap let the unit down by 2 mm.
    #[test]
    fn low_blocks_show_the_spacer_and_the_cure_is_named() {
        let mut survey = casement();
        survey.block_height = 2.0;
        let finding = found(&survey, "fit.spacer-shows");
        assert_relative_eq!(finding.measured.value, 2.0);
        assert_eq!(finding.verdict, Verdict::Caution);
        assert!(finding.advised().contains("4.0 mm high"), "{}", finding.advised());
    }

    #[test]
    fn a_low_unit_shifts_its_cross_bars_only() {
        let mut survey = casement();
        survey.bars.push(Bar { runs: Runs::Cross, centre: 400.0, ..survey.bars[0].clone() });
        survey.block_height = 2.0;
        survey.unit.internal_bar = 20.0;
        let fit = fit(&Sash::new(&survey).unwrap(), &Workshop::default()).unwrap();
        let shows: Vec<f64> = fit
            .findings
            .iter()
            .filter(|f| f.rule == "fit.bar-shows")
            .map(|f| f.measured.value)
            .collect();
        assert_eq!(shows, [0.0, 0.0, 1.0]);
    }

    #[test]
    fn a_large_cutter_wants_a_chisel() {
        let mut survey = casement();
        survey.clearance = crate::geometry::PerSide::all(2.0);
        survey.block_height = 2.0;
        let mut workshop = Workshop::default();
        workshop.cutter.diameter = 16.0;
        let fit = fit(&Sash::new(&survey).unwrap(), &workshop).unwrap();
        let corner = fit.findings.iter().find(|f| f.rule == "fit.corner").unwrap();
        assert_eq!(corner.verdict, Verdict::Caution);
        // Closed form (2 + √2)·2 = 6.828 mm radius.
        assert!(corner.advised().contains("13.6 mm"), "{}", corner.advised());
    }

    #[test]
    fn a_thin_unit_in_a_deep_rebate_wants_packing() {
        let mut survey = casement();
        survey.finish.bead = 1.0;
        survey.finish.proud = 2.0;
        let finding = found(&survey, "fit.packing");
        assert_eq!(finding.verdict, Verdict::Caution);
        assert!(finding.advised().contains("1.0 mm deeper"), "{}", finding.advised());
    }
}
