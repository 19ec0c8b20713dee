//! The sections of a sash before any cut. What is cut out of one is reckoned once, whichever unit asks for it.

use super::cross::{CrossSection, Gap};
use super::section::Section;
use crate::geometry::PerSide;
use crate::sash::Sash;
use std::sync::{Arc, PoisonError, RwLock};

/// Members and bars before they are cut. They depend on nothing of a unit, so that every unit that is tried
/// in a sash may share them.
#[derive(Debug)]
pub struct Uncut {
    pub(super) members: PerSide<Arc<Piece>>,
    /// In the order of the survey.
    pub(super) bars: Vec<Arc<Piece>>,
}

impl Uncut {
    /// The members and bars of `sash`. Those that are alike are one.
    pub fn new(sash: &Sash) -> Uncut {
        let mut known: Vec<Arc<Piece>> = Vec::new();
        let mut piece = |uncut: CrossSection| {
            if let Some(piece) = known.iter().find(|piece| piece.uncut == uncut) {
                return Arc::clone(piece);
            }
            let piece = Arc::new(Piece::new(uncut));
            known.push(Arc::clone(&piece));
            piece
        };
        let members = PerSide::from_fn(|side| {
            let member = CrossSection::member(sash.measured.members.get(side));
            piece(member.grooved(sash.cord_groove(side)))
        });
        let bars = sash.bars.iter().map(|bar| piece(CrossSection::bar(&bar.measured))).collect();
        Uncut { members, bars }
    }
}

/// A member or bar before it is cut, and its sections after the cuts that were asked for.
#[derive(Debug)]
pub(super) struct Piece {
    pub(super) uncut: CrossSection,
    pub(super) before: Section,
    after: RwLock<Vec<(Vec<Gap>, Section)>>,
}

impl Piece {
    fn new(uncut: CrossSection) -> Piece {
        Piece { before: uncut.section(), uncut, after: RwLock::default() }
    }

    /// The section of `cut`, which was cut from this piece.
    pub(super) fn after(&self, cut: &CrossSection) -> Section {
        let known = self.after.read().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, section)) = known.iter().find(|(gaps, _)| *gaps == cut.gaps) {
            return *section;
        }
        drop(known);
        let section = cut.section();
        // Another thread may have worked out the same meanwhile: either serves.
        let mut known = self.after.write().unwrap_or_else(PoisonError::into_inner);
        known.push((cut.gaps.clone(), section));
        section
    }
}
