//! The wood that must go, may go and must stay, as solids.
//!
//! Promised: what must go and what must stay are disjoint and together are the whole sash. Not
//! promised: that the sash survives; `timber` judges that.

mod corner;
mod pieces;

use crate::fit::{Fit, UnitFit};
use crate::geometry::{Outline, Region, ShapeError};
use crate::language::Text;
use crate::sash::{Sash, Solid, Stretch};
use kurbo::Point;

/// An inside corner of a pocket's wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// The sharp corner.
    pub at: Point,
    /// Whether the fillet that is left must be chiselled for the unit to go in.
    pub chisel: bool,
    /// Radius of the thinner cutter that goes into it after the first one; none where only that does.
    pub cleaned: Option<f64>,
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
    Ok(Divided::new(sash, &fit.units, radius, None)?.cut(fit.depth))
}

/// The wood of a sash divided along every wall, as seen from above: the same for a rebate of any depth.
#[derive(Debug, Clone)]
pub struct Divided {
    pockets: Vec<Pocket>,
    /// Fillets that may stay, with the name of each.
    fillets: Vec<(String, Outline)>,
    /// Every piece, and whether it lies inside the walls.
    pieces: Vec<(pieces::Piece, bool)>,
}

impl Divided {
    /// Divides the wood for units that sit there and a cutter of `radius` mm, and one of the radius `thinner` that goes
    /// into corners where a unit wants more room.
    ///
    /// # Errors
    /// Where a wall or a piece of wood has no area.
    pub fn new(
        sash: &Sash,
        units: &[UnitFit],
        radius: f64,
        thinner: Option<f64>,
    ) -> Result<Divided, ShapeError> {
        let (mut pockets, mut fillets) = (Vec::new(), Vec::new());
        for unit in units {
            let (corners, left): (Vec<_>, Vec<_>) =
                corner::corners(unit, radius, thinner).into_iter().unzip();
            let left = corners.iter().zip(left).filter(|(corner, _)| !corner.chisel);
            let name = || format!("fillet, {}", unit.light);
            fillets.extend(left.filter_map(|(_, fillet)| Some((name(), fillet?))));
            pockets.push(Pocket {
                light: unit.light.clone(),
                wall: unit.outlines.wall.outline().clone(),
                corners,
            });
        }
        Ok(Divided { pockets, fillets, pieces: pieces::divide(sash, units)? })
    }

    /// The rooms that the units need.
    pub fn pockets(&self) -> &[Pocket] {
        &self.pockets
    }

    /// The wood inside the walls, down to `depth` mm.
    pub fn inside(&self, depth: f64) -> Vec<Solid> {
        self.go_and_stay(depth).0
    }

    /// What a rebate of that depth, mm, means for the wood.
    pub fn cut(&self, depth: f64) -> Rebate {
        let (go, stay) = self.go_and_stay(depth);
        let fillet = |(name, fillet): &(String, Outline)| Solid {
            name: Text::name(name),
            region: Region::solid(fillet.clone()),
            top: 0.0,
            bottom: -depth,
        };
        Rebate {
            platform: -depth,
            pockets: self.pockets.clone(),
            go,
            may_go: self.fillets.iter().map(fillet).collect(),
            stay,
        }
    }

    fn go_and_stay(&self, depth: f64) -> (Vec<Solid>, Vec<Solid>) {
        pieces::cut(&self.pieces, Stretch { top: 0.0, bottom: -depth })
    }
}

#[cfg(test)]
mod tests;
