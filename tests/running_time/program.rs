//! A program as moves of the tip, for the clock: a reader of the words that these programs use, and no judge of them.

use kurbo::{Point, Vec2};
use std::f64::consts::TAU;

/// A move of the tip between known places.
pub(super) struct Leg {
    pub(super) rapid: bool,
    /// mm/min.
    pub(super) feed: f64,
    from: (Point, f64),
    to: (Point, f64),
    /// Centre and turn, radians, of an arc.
    round: Option<(Point, f64)>,
}

impl Leg {
    pub(super) fn length(&self) -> f64 {
        let level = match self.round {
            None => (self.to.0 - self.from.0).hypot(),
            Some((centre, turn)) => (self.from.0 - centre).hypot() * turn.abs(),
        };
        level.hypot(self.to.1 - self.from.1)
    }

    /// The tip once that share of the way is gone.
    pub(super) fn at(&self, share: f64) -> (Point, f64) {
        let level = match self.round {
            None => self.from.0.lerp(self.to.0, share),
            Some((centre, turn)) => {
                let arm = self.from.0 - centre;
                centre + arm.hypot() * Vec2::from_angle(arm.atan2() + turn * share)
            }
        };
        (level, self.from.1 + (self.to.1 - self.from.1) * share)
    }
}

/// What a program does, and what it says of itself.
pub(super) struct Run {
    pub(super) legs: Vec<Leg>,
    /// Pauses, s.
    waiting: f64,
    /// "about 29 min" of its head.
    pub(super) claimed: f64,
}

impl Run {
    pub(super) fn read(text: &str) -> Run {
        let mut run = Run { legs: Vec::new(), waiting: 0.0, claimed: f64::NAN };
        let (mut place, mut z) = ((None, None), None);
        let (mut motion, mut feed) = (0, 0.0);
        for line in text.lines() {
            if let Some(comment) = line.strip_prefix("(- about ") {
                run.claimed = comment.split(' ').next().unwrap().parse().unwrap();
            }
            if line.starts_with('(') {
                continue;
            }
            let word = |letter: char| {
                let word = line.split(' ').find_map(|word| word.strip_prefix(letter));
                word.map(|number| number.parse::<f64>().unwrap())
            };
            let mut dwells = false;
            for code in line.split(' ').filter_map(|word| word.strip_prefix('G')) {
                match code {
                    "0" | "1" | "2" | "3" => motion = code.parse().unwrap(),
                    "4" => dwells = true,
                    _ => {}
                }
            }
            if dwells {
                run.waiting += word('P').unwrap();
                continue;
            }
            feed = word('F').unwrap_or(feed);
            let before = (place, z);
            place = (word('X').or(place.0), word('Y').or(place.1));
            z = word('Z').or(z);
            if let ((Some(x), Some(y)), Some(from_z)) = before {
                let (from, to) = (Point::new(x, y), Point::new(place.0.unwrap(), place.1.unwrap()));
                let round = (motion > 1 && to != from).then(|| {
                    let centre = from + Vec2::new(word('I').unwrap(), word('J').unwrap());
                    let turn = (to - centre).atan2() - (from - centre).atan2();
                    let turn = turn.rem_euclid(TAU);
                    (centre, if motion == 2 { turn - TAU } else { turn })
                });
                let (from, to) = ((from, from_z), (to, z.unwrap()));
                run.legs.push(Leg { rapid: motion == 0, feed, from, to, round });
            }
        }
        run
    }

    /// Lengths over feeds, rapid moves at that speed, and pauses, minutes.
    pub(super) fn minutes(&self, rapid: f64) -> f64 {
        let of = |leg: &Leg| leg.length() / if leg.rapid { rapid } else { leg.feed };
        self.legs.iter().map(of).sum::<f64>() + self.waiting / 60.0
    }
}
