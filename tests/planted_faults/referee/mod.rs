//! Judges a job without the prover: a trivial interpreter, a map of heights, and the rules of motion
//! written down once more. It shares no code with the prover, only the wood and the limits.

mod bite;
mod interpreter;
mod path;
mod rules;
mod sweep;
mod wood;
mod words;

use crate::planted_faults::job::Job;
use fillister::prove::Setup;
use fillister::rebate::Rebate;
use interpreter::Run;
use wood::{Left, Wood};

/// What the referee says of a job, with the reason.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Verdict {
    /// It breaks the timber or a rule of motion by more than the tolerance.
    Harmful(String),
    /// It breaks nothing.
    Harmless,
    /// Between the two: nearer to a limit than samples and rounding can tell.
    Close(String),
}

/// What is wrong for sure, and what may be wrong.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Opinion {
    harm: Option<String>,
    doubt: Option<String>,
}

impl Opinion {
    fn harm(&mut self, why: impl FnOnce() -> String) {
        self.harm.get_or_insert_with(why);
    }

    fn doubt(&mut self, why: impl FnOnce() -> String) {
        self.doubt.get_or_insert_with(why);
    }

    /// Harm where `value` is over `limit` by more than `band`, a doubt where it is nearer than that.
    fn at_most(&mut self, value: f64, limit: f64, band: f64, what: &str) {
        if value > limit + band {
            self.harm(|| format!("{what}: {value} over {limit}"));
        } else if value > limit - band {
            self.doubt(|| format!("{what}: {value} near {limit}"));
        }
    }
}

/// The referee of one sash, who has seen its own programs run.
pub(crate) struct Referee {
    wood: Wood,
    limits: Setup,
    /// The programs as planned.
    planned: Vec<String>,
    /// Heights before each of them, and after the last.
    heights: Vec<Vec<f32>>,
}

impl Referee {
    /// Watches the programs of `planned` run, which must break nothing.
    pub(crate) fn new(rebate: &Rebate, planned: &Job, pitch: f64) -> Referee {
        let limits = planned.setup.clone();
        let wood = Wood::new(rebate, limits.radius(), pitch);
        let mut referee = Referee {
            heights: vec![vec![f32::INFINITY; wood.samples.len()]],
            wood,
            limits,
            planned: Vec::new(),
        };
        for text in &planned.texts {
            let run = interpreter::read(&text.whole()).unwrap();
            let mut heights = referee.heights[referee.planned.len()].clone();
            let opinion = referee.judge_run(&run, &mut heights);
            assert_eq!(opinion, Opinion::default(), "{}", text.name);
            referee.heights.push(heights);
            referee.planned.push(text.whole());
        }
        assert_eq!(referee.judge(planned), Verdict::Harmless);
        referee
    }

    /// Looks again close around places: between its samples a hair of wood may have stood that the prover saw.
    pub(crate) fn look_again(&self, rebate: &Rebate, job: &Job, places: &[(f64, f64)]) -> Verdict {
        let wood = Wood::around(rebate, self.limits.radius(), places);
        let heights = vec![vec![f32::INFINITY; wood.samples.len()]];
        let limits = self.limits.clone();
        Referee { wood, limits, planned: Vec::new(), heights }.judge(job)
    }

    /// How many samples the wood has.
    pub(crate) fn samples(&self) -> usize {
        self.wood.samples.len()
    }

    /// Judges a job with faults.
    pub(crate) fn judge(&self, job: &Job) -> Verdict {
        let texts: Vec<String> =
            job.texts.iter().map(crate::planted_faults::job::Text::whole).collect();
        let read: Result<Vec<Run>, String> =
            texts.iter().map(|text| interpreter::read(text)).collect();
        let runs = match read {
            Ok(runs) => runs,
            Err(harm) => return Verdict::Harmful(harm),
        };
        let mut opinion = Opinion::default();
        rules::travel(&runs, &self.limits, &mut opinion);
        // Up to the first difference everything is as the referee has seen it.
        let same = texts.iter().zip(&self.planned).take_while(|(a, b)| a == b).count();
        let mut heights = self.heights[same].clone();
        for run in &runs[same..] {
            let found = self.judge_run(run, &mut heights);
            opinion.harm = opinion.harm.or(found.harm);
            opinion.doubt = opinion.doubt.or(found.doubt);
            if opinion.harm.is_some() {
                break;
            }
        }
        if opinion.harm.is_none() {
            match self.wood.left(&heights, self.limits.tolerance) {
                Left::Surely(at) => opinion.harm(|| format!("wood left at {at:?}")),
                Left::Perhaps(at) => opinion.doubt(|| format!("perhaps wood left at {at:?}")),
                Left::Nothing => {}
            }
        }
        match opinion {
            Opinion { harm: Some(why), .. } => Verdict::Harmful(why),
            Opinion { doubt: Some(why), .. } => Verdict::Close(why),
            _ => Verdict::Harmless,
        }
    }

    fn judge_run(&self, run: &Run, heights: &mut [f32]) -> Opinion {
        let mut opinion = Opinion::default();
        rules::frame(run, &self.limits, &mut opinion);
        let mut wide = bite::Wide::default();
        for mv in &run.moves {
            wide.look(&self.wood, heights, mv, &self.limits, &mut opinion);
            let is_open =
                mv.path.length() == 0.0 && !self.wood.is_under(&mv.path, self.limits.radius());
            rules::motion(mv, &self.limits, is_open, &mut opinion);
            if opinion.harm.is_some() {
                break;
            }
            sweep::sweep(&self.wood, heights, mv, &self.limits, &mut opinion);
        }
        opinion
    }
}
