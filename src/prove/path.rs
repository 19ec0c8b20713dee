//! The path of a program as it was read, for whoever draws it.

use super::motion::{Move, Pace};
use super::{Program, WoodLeft, reader};
use crate::geometry::Edge;

/// One move of the cutter's tip, in the sash's frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passage {
    /// The axis seen from above; without length for a move along Z.
    pub path: Edge,
    /// Z at its start and at its end, mm.
    pub z: [f64; 2],
    /// Whether it runs as fast as the machine can.
    pub rapid: bool,
}

impl Passage {
    pub(super) fn of(step: &Move) -> Passage {
        Passage { path: step.path, z: [step.from_z, step.to_z], rapid: step.pace == Pace::Rapid }
    }
}

/// One move, and what it does to the wood as all moves before have left it; heights from the face as it lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Index of its program.
    pub program: usize,
    /// How many pauses the program makes before it.
    pub part: usize,
    /// Line of the program, from 1.
    pub line: usize,
    /// The move.
    pub passage: Passage,
    /// How long it takes, and how long the cutter then stands, minutes; without acceleration.
    pub minutes: f64,
    /// Half the diameter of its cutter, mm.
    pub radius: f64,
    /// The tallest wood above the tip that it takes, mm; zero where it takes no more than the tolerance.
    pub taken: f64,
    /// The least wood that then is left under the cutter, along parts of its way: the share of the way at which each
    /// ends, and none where nothing has been cut there.
    pub left: Vec<(f64, Option<WoodLeft>)>,
}

/// What a program does, move by move, from pause to pause; none where it holds words that cannot be judged.
pub fn path(program: &Program) -> Option<Vec<Vec<Passage>>> {
    let read = reader::read(program.text).placed(&program.place.inverse());
    read.refusals.is_empty().then(|| {
        read.between_pauses().map(|moves| moves.iter().map(Passage::of).collect()).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[test]
    fn moves_come_back_as_they_stand_in_the_text() {
        let text = "G17 G21 G90 G94\nG0 Z8\nG0 X10 Y20\nS18000 M3\nG1 Z-2 F400\nG1 X30 F1500\nG0 Z8\nM5\nM0\nG0 X10\nM2\n";
        let moves = path(&Program::new("1.ngc", text)).unwrap();
        let [before, after] = moves.as_slice() else { panic!("one pause: {moves:?}") };
        assert_eq!(after.len(), 1);
        let [.., down, along, up] = before.as_slice() else { panic!("three moves: {moves:?}") };
        assert_eq!((down.z, down.rapid), ([8.0, -2.0], false));
        assert_eq!(along.path, Edge::line(Point::new(10.0, 20.0), Point::new(30.0, 20.0)));
        assert_eq!((up.z, up.rapid), ([-2.0, 8.0], true));
        assert_eq!(path(&Program::new("1.ngc", "G1 X\n")), None);
    }
}
