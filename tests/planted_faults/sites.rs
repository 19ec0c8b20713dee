//! The sashes whose programs get the faults.

use crate::planted_faults::job::{Job, Text};
use crate::planted_faults::referee::Referee;
use fillister::job::{Work, prove_work, setup};
use fillister::prove::{Program, Proof, prove};
use fillister::rebate::Rebate;
use fillister::survey;

/// Three small sashes: a bar behind which one unit goes, a unit in each light, a groove.
const SMALL: &str = r#"
house = "Bench End"

[workshop]
cutter = { diameter = 6, flutes = 2, cutting_length = 25 }

# Few and deep steps: the fewer the lines, the more faults in a minute.
[workshop.cutting]
step_depth = 5.5
widen_step = 5.5
side_step  = 0.6

[defaults]
kind      = "fixed"
thickness = 40
timber    = "scots-pine"
stiles    = { width = 34 }
rails     = { top = 34, bottom = 38 }
rebate    = { width = 6, depth = 11 }
moulding  = { shape = "square" }
finish    = { bed = 1, bead = 5 }
unit      = { build_up = "3-4-3", cover = 8, spacer_height = 6 }

[[sash]]
id      = "one-unit"
sight   = { width = 62, height = 50 }
bars_as = "one-unit"
bars    = [{ runs = "upright", centre = 40, width = 24, rebate = { width = 6, depth = 9 } }]

[[sash]]
id      = "unit-per-light"
sight   = { width = 74, height = 50 }
rebate  = { width = 4, depth = 10 }
bars_as = "unit-per-light"
unit    = { build_up = "3-4-3", cover = 5, spacer_height = 5 }
bars    = [{ runs = "upright", centre = 37, width = 26 }]

[[sash]]
id    = "groove"
kind  = "sliding-lower"
sight = { width = 50, height = 50 }
[sash.member.top]
groove = { from_face = 8, width = 4, depth = 7 }
"#;

/// The example house.
const HOUSE: &str = include_str!("../../examples/samphire-cottage.toml");

/// A sash with its programs, proven, and the referee who watched them run.
pub(crate) struct Site {
    pub(crate) name: String,
    pub(crate) planned: Job,
    pub(crate) rebate: Rebate,
    pub(crate) referee: Referee,
}

/// The three small sashes, sampled every 0.3 mm.
pub(crate) fn small() -> Vec<Site> {
    let sites = sites(SMALL, 0.3);
    assert_eq!(sites.len(), 3);
    sites
}

/// The square sashes of the example that can be cut in one place, sampled every 0.8 mm.
pub(crate) fn house() -> Vec<Site> {
    let sites = sites(HOUSE, 0.8);
    assert!(sites.len() >= 4);
    sites
}

fn sites(text: &str, pitch: f64) -> Vec<Site> {
    let house = survey::read(text, "survey").unwrap();
    let mut sites = Vec::new();
    for sash in &house.sashes {
        let work = Work::new(sash, &house.workshop).unwrap();
        // The referee's wood is of rectangles and lies in one place.
        if work.programs.programs.is_empty()
            || sash.outline.is_some()
            || work.programs.set_ups.len() > 1
            || !prove_work(&work, &house.workshop).unwrap().is_proven()
        {
            continue;
        }
        let texts = work
            .programs
            .programs
            .iter()
            .map(|program| Text::new(&program.name, &program.text().unwrap()));
        let planned = Job { texts: texts.collect(), setup: setup(&work, &house.workshop).unwrap() };
        let referee = Referee::new(&work.rebate, &planned, pitch);
        let name = sash.id.clone();
        sites.push(Site { name, planned, rebate: work.rebate, referee });
    }
    sites
}

impl Site {
    /// The proof of a job.
    pub(crate) fn prove(&self, job: &Job) -> Proof {
        let texts: Vec<String> = job.texts.iter().map(Text::whole).collect();
        let named = job.texts.iter().zip(&texts);
        let programs: Vec<Program> =
            named.map(|(text, whole)| Program::new(&text.name, whole)).collect();
        prove(&programs, &self.rebate, &job.setup)
    }
}
