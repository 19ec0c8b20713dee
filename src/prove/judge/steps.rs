//! What each move does to the wood, for whoever shows a cut as it goes on.

use super::{Run, result, uncut};
use crate::prove::Setup;
use crate::prove::motion::{Move, piece};
use crate::prove::path::{Passage, Step};
use crate::prove::proof::WoodLeft;
use crate::prove::wood::Field;
use crate::rebate::Rebate;

/// Length of the parts of a way that wood left is told of, in diameters of the cutter: shorter ones tell a place more
/// exactly, and are more to tell.
const PART: f64 = 2.0;
/// Most parts of one way.
const MOST_PARTS: f64 = 100.0;

/// Every move with the wood that it takes and leaves; none where that is more work than a proof may be.
pub(in crate::prove) fn steps(runs: &[Run], rebate: &Rebate, setup: &Setup) -> Option<Vec<Step>> {
    let mut field = uncut(runs, rebate, setup, 0);
    let mut steps = Vec::new();
    for (program, Run { read, setup, .. }) in runs.iter().enumerate() {
        let parts = read.between_pauses().enumerate();
        for (part, mv) in parts.flat_map(|(part, moves)| moves.iter().map(move |mv| (part, mv))) {
            let met = field.sweep_move(mv, setup.radius(), setup.radius());
            // The whole cutter meets a film of rounding where another move has been.
            let taken = met.map(|met| met.height).filter(|height| *height > setup.tolerance);
            steps.push(Step {
                program,
                part,
                line: mv.line,
                passage: Passage::of(mv),
                minutes: mv.minutes(setup.rapid) + mv.dwell / 60.0,
                radius: setup.radius(),
                taken: taken.unwrap_or(0.0),
                left: left(&field, mv, setup),
            });
            if field.effort.is_spent() {
                return None;
            }
        }
    }
    Some(steps)
}

/// The wood left along a way, alike with alike.
fn left(field: &Field, mv: &Move, setup: &Setup) -> Vec<(f64, Option<WoodLeft>)> {
    let mut left: Vec<(f64, Option<WoodLeft>)> = Vec::new();
    if mv.low() >= field.top {
        return left;
    }
    let length = mv.path.length() / (PART * setup.cutter_diameter);
    let (count, mut done) = (length.ceil().clamp(1.0, MOST_PARTS), 0.0);
    while done < count {
        let path = piece(&mv.path, done / count, (done + 1.0) / count);
        done += 1.0;
        let found = result::least_under(field, &path, setup.radius(), &setup.reserve.fronts);
        let told = |left: &WoodLeft| (left.part.clone(), left.wood.to_bits());
        match left.last_mut() {
            Some((share, last)) if last.as_ref().map(told) == found.as_ref().map(told) => {
                *share = done / count;
            }
            _ => left.push((done / count, found)),
        }
    }
    left
}
