//! The boards that carry the router over the openings and beside the sash.
//!
//! Promised: a board in an opening stays clear of cutter and bush along the frame; beside a bar it
//! stands close, since a slender bar carries no base, and where the cutter then runs into it the first such
//! pass is named. Not promised: that a board lies still; screw or tape it down.

use super::template_offset;
use crate::fit::Fit;
use crate::geometry::{COINCIDENT, ClipError, Join, Outline, PerSide, Region, Side, Sided};
use crate::passes::{Cut, Pass, Plan, Stage};
use crate::sash::{Part, Sash};
use crate::survey::{BarsAs, Cutter, Router};
use schemars::JsonSchema;
use serde::Serialize;

/// Gap between an infill board and everything that moves, mm. Common practice, no source.
const INFILL_GAP: f64 = 2.0;

/// What a cutter takes off a board before it is worth a word, mm².
const SLIVER: f64 = 1e-3;

/// Boards of one size.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Board {
    /// Where they lie, in words.
    pub place: String,
    /// How many.
    pub count: usize,
    /// Along X in an opening, along the sash beside it, mm.
    pub length: f64,
    /// Across that, mm.
    pub width: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// What to mind.
    pub remark: &'static str,
    /// Where those in openings lie, seen on the glazing face; empty for boards outside the sash.
    #[serde(skip)]
    pub at: Vec<Outline>,
    /// The first pass that runs into one of them.
    pub cut_into_by: Option<CuttingPass>,
}

impl Board {
    /// Whether it lies in an opening, where the unit goes.
    pub fn in_opening(&self) -> bool {
        !self.at.is_empty()
    }
}

/// A pass that runs into a board.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CuttingPass {
    /// Its stage.
    pub stage: Stage,
    /// Where it is made.
    pub place: String,
    /// How deep it goes, mm.
    pub depth: f64,
}

/// What moves over the boards.
struct Moving<'a> {
    sash: &'a Sash,
    fit: &'a Fit,
    cutter: &'a Cutter,
    /// How far bush or cutter reaches inwards from the wall, mm.
    inwards: f64,
}

/// The boards: one in each opening, and strips outside the sash where the base would tip. With a
/// template they are as thick as sash and plate together inside, and as the sash outside, under the plate.
pub fn boards(
    sash: &Sash,
    fit: &Fit,
    plan: &Plan,
    router: &Router,
    cutter: &Cutter,
    bush: bool,
) -> Vec<Board> {
    let thickness = sash.measured.thickness().most;
    let plate = if bush { router.plate } else { 0.0 };
    let inwards = match template_offset(router, cutter).filter(|_| bush) {
        Some(offset) => router.guide_bush - offset,
        None => cutter.diameter,
    };
    let moving = Moving { sash, fit, cutter, inwards };
    let mut boards: Vec<Board> = Vec::new();
    for (place, at) in moving.openings() {
        let (size, square) = (at.bounds().size(), at.is_rectangle());
        let remark = if square {
            "in the opening, level with what the base runs on"
        } else {
            "in the opening, level with what the base runs on; cut to the shape of the light"
        };
        let at = at.outline().clone();
        let known = boards.iter_mut().find(|board| {
            (board.length - size.width).abs() < COINCIDENT
                && (board.width - size.height).abs() < COINCIDENT
                && square
                && board.remark == remark
        });
        match known {
            Some(board) => {
                board.count += 1;
                board.place = format!("{}, {place}", board.place);
                board.at.push(at);
            }
            None => boards.push(Board {
                place,
                count: 1,
                length: size.width,
                width: size.height,
                thickness: thickness + plate,
                remark,
                at: vec![at],
                cut_into_by: None,
            }),
        }
    }
    for board in &mut boards {
        let meets = |pass: &&Pass| board.at.iter().any(|at| moving.meets(pass, at));
        board.cut_into_by = plan.passes.iter().find(meets).map(|pass| CuttingPass {
            stage: pass.stage,
            place: pass.place.clone(),
            depth: pass.to_depth,
        });
    }
    let outer = sash.outer.size();
    let reach = router.base_diameter / 2.0;
    let measured = &sash.measured;
    // Where stiles run on past a rail, the board lies between the horns.
    let between = outer.width - measured.members.left.width - measured.members.right.width;
    let along = |end: Side| {
        if measured.horns.past(end) > 0.0 { between } else { outer.width + 2.0 * reach }
    };
    let [bottom, top] = [Side::Bottom, Side::Top].map(along);
    let beside = |end: Side| format!("beside the {}", sash.part_name(Part::Member(end)));
    let mut all = vec![("beside the stiles".to_owned(), 2, outer.height)];
    if (bottom - top).abs() <= COINCIDENT {
        all.push(("beside the rails".to_owned(), 2, bottom));
    } else {
        all.extend([(beside(Side::Bottom), 1, bottom), (beside(Side::Top), 1, top)]);
    }
    for (place, count, length) in all {
        boards.push(Board {
            place,
            count,
            length: length.ceil(),
            width: reach.ceil(),
            thickness,
            remark: "outside the sash, tight against it",
            at: Vec::new(),
            cut_into_by: None,
        });
    }
    boards
}

impl Moving<'_> {
    /// The boards in openings that have room for one: by name, with their outlines.
    fn openings(&self) -> Vec<(String, Sided)> {
        let one_unit = self.sash.measured.bars_as == BarsAs::OneUnit;
        let mut found = Vec::new();
        for unit in &self.fit.units {
            // Where the rebate is narrowest the cutter reaches furthest into the opening.
            let clear =
                unit.rebate_width.map(|width| (self.inwards - width.least).max(0.0) + INFILL_GAP);
            let mut add = |name: &str, light: &Sided| {
                let gap = |side: Side| match self.sash.neighbour(light, side).0 {
                    Part::Bar(_) if one_unit => INFILL_GAP,
                    Part::Bar(_) | Part::Member(_) => *clear.get(side),
                };
                // A light too small for a board has none.
                if let Ok(board) = light.grow(&PerSide::from_fn(|side| -gap(side))) {
                    found.push((name.to_owned(), board));
                }
            };
            if one_unit {
                for light in &self.sash.lights {
                    add(&light.name, &light.outline);
                }
            } else {
                add(&unit.light, &unit.outlines.sight);
            }
        }
        found
    }

    /// Whether cutter or bush runs into a board during `pass`.
    fn meets(&self, pass: &Pass, board: &Outline) -> bool {
        match &pass.cut {
            Cut::Ring(ring) => {
                let own = ring.sight.bounds().intersect(board.bounds()).area() > 0.0;
                // Where bush or cutter leaves nothing free, it runs into any board.
                let free = ring.wall.outline().offset(COINCIDENT - self.inwards, Join::Sharp);
                own && free.map_or(true, |free| sizeable(board.difference(&free)))
            }
            Cut::Strip(strip) => {
                let wide = strip.width.max(self.cutter.diameter) - COINCIDENT;
                let swept = strip.bar.strip(wide).ok();
                swept.is_some_and(|swept| sizeable(board.intersection(&swept)))
            }
            Cut::Clean { .. } | Cut::Corners { .. } => false,
        }
    }
}

/// Whether anything to speak of is left; what cannot be worked out is taken for met.
fn sizeable(regions: Result<Vec<Region>, ClipError>) -> bool {
    regions.map_or(true, |regions| regions.iter().map(Region::area).sum::<f64>() > SLIVER)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use crate::survey::Workshop;
    use crate::{fit, passes, rebate};
    use approx::assert_relative_eq;

    fn boards(bar_width: f64, bush: bool) -> Vec<Board> {
        let (mut survey, workshop) = (casement(), Workshop::default());
        for bar in &mut survey.bars {
            bar.width = bar_width;
            bar.rebate_width = bar_width / 2.0 - 2.0;
        }
        let sash = Sash::new(&survey).unwrap();
        let fit = fit::fit(&sash, &workshop).unwrap();
        let rebate = rebate::divide(&sash, &fit, workshop.cutter.radius()).unwrap();
        let plan = passes::plan(&sash, &fit, &rebate, &workshop).unwrap();
        super::boards(&sash, &fit, &plan, &workshop.router, &workshop.cutter, bush)
    }

    // By hand: lights 257, 262 and 257 wide and 930 high. A bush of 24 round a cutter of 12 reaches 18
    // inwards from the wall, 4 beyond a sight edge 14 from it and 2 beyond one 16 from it; and 2 of gap.
    #[test]
    fn a_board_goes_between_the_bars_clear_of_the_bush_along_the_frame() {
        let all = boards(22.0, true);
        let sizes: Vec<(f64, f64)> = all.iter().map(|board| (board.length, board.width)).collect();
        assert_relative_eq!(sizes[0].0, 257.0 - 6.0 - 2.0);
        assert_relative_eq!(sizes[0].1, 930.0 - 6.0 - 4.0);
        assert_relative_eq!(sizes[1].0, 262.0 - 4.0);
        assert_eq!((all[0].count, all[1].count), (2, 1));
        assert_relative_eq!(all[0].thickness, 45.0 + 12.0);
        assert!(all[2..].iter().all(|board| !board.in_opening() && board.thickness == 45.0));
    }

    // A web of 4 under a cutter of 12 lets it reach 4 beyond the web on each side: still over the old
    // rebate of a bar 22 wide. A bar of 7 is cut whole with 2.5 beyond each side, past the gap of 2.
    #[test]
    fn the_pass_that_runs_into_a_board_is_named() {
        for bush in [true, false] {
            assert!(boards(22.0, bush).iter().all(|board| board.cut_into_by.is_none()));
            let met = boards(7.0, bush)[0].cut_into_by.clone().unwrap();
            assert_eq!((met.stage, met.place.as_str()), (Stage::LowerBars, "upright bar 1"));
            assert!(boards(8.5, bush).iter().all(|board| board.cut_into_by.is_none()));
        }
    }
}
