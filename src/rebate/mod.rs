//! The wood that must go, may go and must stay, as solids.
//!
//! Promised: what must go and what must stay are disjoint and together are the whole sash. Not
//! promised: that the sash survives; `timber` judges that.

mod cells;
mod corner;
mod pieces;

use crate::fit::{Fit, UnitFit};
use crate::geometry::{Outline, Region, ShapeError};
use crate::sash::{PlacedBar, Sash, Solid, Stretch};
use kurbo::{Point, Rect};
use std::sync::Arc;

/// An inside corner of a pocket's wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// The sharp corner.
    pub at: Point,
    /// Whether the fillet that the cutter leaves must be chiselled for the unit to go in.
    pub chisel: bool,
}

/// The room one unit needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Pocket {
    /// The light, or lights, it serves.
    pub light: String,
    /// The new rebate wall with sharp corners.
    pub wall: Outline,
    /// Its inside corners.
    pub corners: Vec<Corner>,
}

/// Everything the cut means for the wood.
#[derive(Debug, Clone, PartialEq)]
pub struct Rebate {
    /// Z of the new platform, negative.
    pub platform: f64,
    /// One pocket a unit.
    pub pockets: Vec<Pocket>,
    /// Wood that must go: disjoint prisms inside the walls and above the platform, corners sharp.
    pub go: Vec<Solid>,
    /// Wood that may go or stay: fillets of the cutter in corners that the unit clears. They lie
    /// inside the prisms of `go`.
    pub may_go: Vec<Solid>,
    /// Wood that must stay: disjoint prisms, everything else the sash is made of, as if its
    /// room-side mouldings were square.
    pub stay: Vec<Solid>,
}

/// Divides the sash's wood for a fit and a cutter of `radius` mm.
///
/// # Errors
/// Where a wall or a piece of wood has no area.
pub fn divide(sash: &Sash, fit: &Fit, radius: f64) -> Result<Rebate, ShapeError> {
    Divided::new(sash, &fit.units, radius)?.cut(fit.depth)
}

/// The wood of a sash divided along every wall, as seen from above: the same for a rebate of any depth.
#[derive(Debug, Clone)]
pub struct Divided {
    pockets: Vec<Pocket>,
    /// Fillets that may stay, with the name of each.
    fillets: Vec<(String, Outline)>,
    pieces: Pieces,
}

#[derive(Debug, Clone)]
enum Pieces {
    /// Of a sash that is a chequer of cells; whether each lies inside the walls.
    Cells(Vec<(cells::Cell, bool)>),
    /// Of any other.
    Any(Vec<(pieces::Piece, bool)>),
}

impl Divided {
    /// Divides the wood for units that sit there and a cutter of `radius` mm.
    ///
    /// # Errors
    /// Where a wall or a piece of wood has no area.
    pub fn new(sash: &Sash, units: &[UnitFit], radius: f64) -> Result<Divided, ShapeError> {
        let (mut pockets, mut fillets) = (Vec::new(), Vec::new());
        for unit in units {
            let (corners, left): (Vec<_>, Vec<_>) =
                corner::corners(unit, radius).into_iter().unzip();
            let left = corners.iter().zip(left).filter(|(corner, _)| !corner.chisel);
            let name = || format!("fillet, {}", unit.light);
            fillets.extend(left.filter_map(|(_, fillet)| Some((name(), fillet?))));
            pockets.push(Pocket {
                light: unit.light.clone(),
                wall: unit.outlines.wall.outline().clone(),
                corners,
            });
        }
        let pieces = if is_chequered(sash, units) {
            let walls: Vec<_> = units.iter().map(|unit| unit.wall).collect();
            let inside = |rect: Rect| walls.iter().any(|wall| wall.contains(rect.center()));
            let cells = cells::cells(sash, &walls).into_iter();
            let within = |cell: cells::Cell| {
                let inside = inside(cell.0);
                (cell, inside)
            };
            Pieces::Cells(cells.map(within).collect())
        } else {
            Pieces::Any(pieces::divide(sash, units)?)
        };
        Ok(Divided { pockets, fillets, pieces })
    }

    /// The rooms that the units need.
    pub fn pockets(&self) -> &[Pocket] {
        &self.pockets
    }

    /// The wood inside the walls, down to `depth` mm.
    ///
    /// # Errors
    /// As [`Divided::new`].
    pub fn inside(&self, depth: f64) -> Result<Vec<Solid>, ShapeError> {
        Ok(self.go_and_stay(depth)?.0)
    }

    /// What a rebate of that depth, mm, means for the wood.
    ///
    /// # Errors
    /// As [`Divided::new`].
    pub fn cut(&self, depth: f64) -> Result<Rebate, ShapeError> {
        let (go, stay) = self.go_and_stay(depth)?;
        let fillet = |(name, fillet): &(String, Outline)| Solid {
            name: name.clone(),
            region: Region::solid(fillet.clone()),
            top: 0.0,
            bottom: -depth,
        };
        Ok(Rebate {
            platform: -depth,
            pockets: self.pockets.clone(),
            go,
            may_go: self.fillets.iter().map(fillet).collect(),
            stay,
        })
    }

    fn go_and_stay(&self, depth: f64) -> Result<(Vec<Solid>, Vec<Solid>), ShapeError> {
        let taken = Stretch { top: 0.0, bottom: -depth };
        match &self.pieces {
            Pieces::Cells(cells) => chequered(cells, taken),
            Pieces::Any(pieces) => Ok(pieces::cut(pieces, taken)),
        }
    }
}

/// Whether everything runs square, so that the sash is a chequer of cells.
fn is_chequered(sash: &Sash, units: &[UnitFit]) -> bool {
    let square =
        |unit: &UnitFit| unit.outlines.wall.is_rectangle() && unit.outlines.sight.is_rectangle();
    sash.outline.is_rectangle()
        && sash.bars.iter().all(PlacedBar::is_square)
        && units.iter().all(square)
}

/// What goes and what stays of a sash that is a chequer of cells.
fn chequered(
    cells: &[(cells::Cell, bool)],
    taken: Stretch,
) -> Result<(Vec<Solid>, Vec<Solid>), ShapeError> {
    let mut go = Vec::new();
    let mut stay = Vec::new();
    for ((rect, part, wood), inside) in cells {
        let of_cell = |piece| (*rect, Arc::clone(part), piece);
        for stretch in wood {
            if *inside {
                go.extend(stretch.intersection(taken).map(of_cell));
                stay.extend(stretch.difference(taken).into_iter().map(of_cell));
            } else {
                stay.push(of_cell(*stretch));
            }
        }
    }
    let solids = |pieces| -> Result<Vec<Solid>, ShapeError> {
        let merged = cells::merge(pieces).into_iter();
        merged
            .map(|(rect, part, piece)| {
                Ok(Solid {
                    name: part.to_string(),
                    region: Region::solid(Outline::rectangle(rect)?),
                    top: piece.top,
                    bottom: piece.bottom,
                })
            })
            .collect()
    };
    Ok((solids(go)?, solids(stay)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::sash::tests::casement;
    use crate::survey::{BarsAs, OldGlazing};
    use approx::assert_relative_eq;
    use kurbo::Vec2;

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
                    let wood = sash.wood_at(at).map_or(0.0, |(_, wood)| {
                        wood.iter().map(|s| s.top - s.bottom).sum::<f64>()
                    });
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

    // The same sashes divided as those of any shape: the same wood goes, and the same stays.
    #[test]
    fn a_square_sash_is_divided_alike_by_cells_and_by_edges() {
        let mut grooved = casement();
        grooved.members.top.old = OldGlazing::Groove { from_face: 10.0, width: 5.0, depth: 8.0 };
        let mut unequal = casement();
        unequal.members.left.old = OldGlazing::Rebate { width: 6.0, depth: 13.0 };
        unequal.members.bottom.old = OldGlazing::Rebate { width: 11.0, depth: 20.0 };
        for survey in [casement(), grooved, unequal] {
            let (sash, by_cells) = divided(&survey);
            let units = fit::fit(&sash, &crate::survey::Workshop::default()).unwrap().units;
            let taken = Stretch { top: 0.0, bottom: by_cells.platform };
            let (go, stay) = pieces::cut(&pieces::divide(&sash, &units).unwrap(), taken);
            assert_relative_eq!(volume(&go), volume(&by_cells.go), max_relative = 1e-9);
            assert_relative_eq!(volume(&stay), volume(&by_cells.stay), max_relative = 1e-9);
        }
    }

    #[test]
    fn a_fillet_that_may_stay_has_the_closed_form_area() {
        let (_, rebate) = divided(&casement());
        assert_eq!(rebate.may_go.len(), 4);
        for solid in &rebate.may_go {
            assert_relative_eq!(solid.region.area(), fit::corner::fillet_area(6.0), epsilon = 1e-9);
        }
        let (sash, fit) = (
            Sash::new(&casement()).unwrap(),
            fit::fit(&Sash::new(&casement()).unwrap(), &crate::survey::Workshop::default())
                .unwrap(),
        );
        assert!(divide(&sash, &fit, 12.0).unwrap().may_go.is_empty());
    }
}
