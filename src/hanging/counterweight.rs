//! Counterweights of sliding sashes.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::language::{Text, text};
use crate::survey::{Kind, Limits, WeightBox};
use schemars::JsonSchema;
use serde::Serialize;
use std::f64::consts::PI;

/// What the pair of an upper sash weighs more, and of a lower one less, than its sash, kg: half a
/// pound (from memory), so that the upper stays up and the lower stays down.
const BIAS: f64 = 0.5 * 0.453_592_37;

/// What a counterweight is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Metal {
    /// Cast iron.
    Iron,
    /// Steel.
    Steel,
    /// Lead.
    Lead,
}

impl Metal {
    /// From the lightest and cheapest to the heaviest.
    pub const ALL: [Metal; 3] = [Metal::Iron, Metal::Steel, Metal::Lead];

    /// Density, kg/m³: tables of several handbooks agree; cast iron is from 6800 to 7800.
    pub fn density(self) -> f64 {
        match self {
            Metal::Iron => 7200.0,
            Metal::Steel => 7850.0,
            Metal::Lead => 11_340.0,
        }
    }

    /// The name in small letters.
    pub fn name(self) -> &'static str {
        match self {
            Metal::Iron => "iron",
            Metal::Steel => "steel",
            Metal::Lead => "lead",
        }
    }
}

/// Length, mm, of a round weight of `mass` kg and `diameter` mm: m/(ρ π d²/4). Infinite for a diameter
/// that is none.
pub fn length(mass: f64, diameter: f64, metal: Metal) -> f64 {
    let area = PI * diameter * diameter / 4.0;
    if area > 0.0 { mass / (metal.density() * 1e-9 * area) } else { f64::INFINITY }
}

/// What each of the two weights of a sliding sash of `weight` kg should weigh, kg; `None` for a sash
/// that does not slide. Half the glazed sash (published), the pair of an upper sash half a pound more,
/// of a lower one half a pound less (from memory). Never less than nothing.
pub fn each(kind: Kind, weight: f64) -> Option<f64> {
    let pair = match kind {
        Kind::SlidingUpper => weight + BIAS,
        Kind::SlidingLower => weight - BIAS,
        Kind::Fixed | Kind::SideHung | Kind::TopHung => return None,
    };
    Some((pair / 2.0).max(0.0))
}

/// A weight in one metal.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct InMetal {
    /// The metal.
    pub metal: Metal,
    /// Length of the whole weight, mm.
    pub length: f64,
    /// Length of what must be hung to the old weight, mm; nothing where it is heavy enough, none where
    /// the old weight is not known.
    pub extra: Option<f64>,
    /// Box left over once the sash has gone all its way, mm.
    pub left: f64,
}

/// Counterweights of one sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Counterweights {
    /// Each weight now, kg; none where neither it nor the old glass was measured.
    pub each_before: Option<f64>,
    /// Each weight with the unit, kg.
    pub each_after: f64,
    /// What each must gain, kg; negative where it must lose.
    pub extra: Option<f64>,
    /// Whether the weight rests on old ones put on a scale, and only what the sash gains is reckoned.
    pub weighed: bool,
    /// In each metal.
    pub metals: Vec<InMetal>,
    /// `hanging.weighed`, where the scale and the reckoning can be held against each other; `hanging.box`: the
    /// first metal that fits, or lead.
    pub findings: Vec<Finding>,
}

/// Works out the weights of a sliding sash that weighs `before` (where that is known) and `after` kg, in
/// boxes like `room`; `None` for a sash that does not slide or a box too thin for any weight. An old
/// weight from the scale gains half of what the sash gains, since it knows paint, putty, hardware and the
/// wood, which no reckoning does. One that was not put on a scale is taken to balance the old sash; where
/// that is not known either, the new weight is half the new sash as reckoned.
pub fn counterweights(
    kind: Kind,
    (before, after): (Option<f64>, f64),
    room: &WeightBox,
    limits: &Limits,
) -> Option<Counterweights> {
    let reckoned = each(kind, after)?;
    let old_reckoned = before.and_then(|before| each(kind, before));
    let scale = room.old.zip(before).map(|(old, before)| (old + (after - before) / 2.0).max(0.0));
    let each_after = scale.unwrap_or(reckoned);
    let each_before = room.old.or(old_reckoned);
    let extra = each_before.map(|before| each_after - before);
    let metals = Metal::ALL.map(|metal| {
        let long = length(each_after, room.diameter, metal);
        InMetal {
            metal,
            length: long,
            extra: extra.map(|extra| length(extra.max(0.0), room.diameter, metal)),
            // The weight hangs at the pulley when the sash is down, and falls as far as it rises.
            left: room.height - room.travel - long,
        }
    });
    if metals.iter().any(|made| !made.length.is_finite()) {
        return None;
    }
    let [.., lead] = metals;
    let fits = metals.into_iter().find(|made| made.left >= limits.weight_gap_caution.value);
    let mut findings: Vec<Finding> = room
        .old
        .zip(old_reckoned)
        .map(|(old, old_reckoned)| against_the_scale(old, old_reckoned, each_after, limits))
        .into_iter()
        .collect();
    findings.push(judge(&fits.unwrap_or(lead), each_after, limits));
    let weighed = scale.is_some();
    let metals = metals.to_vec();
    Some(Counterweights { each_before, each_after, extra, weighed, metals, findings })
}

/// Where the scale and the reckoning disagree, something was not measured as it is.
fn against_the_scale(old: f64, reckoned: f64, each_after: f64, limits: &Limits) -> Finding {
    // A share of what the scale says; of nothing, all of it.
    let off = if old > 0.0 { 100.0 * (reckoned - old).abs() / old } else { 100.0 };
    let bounds = Bounds::caution(Bound::from(&limits.weighed_caution).map(|share| 100.0 * share));
    let measured = Quantity { value: off, unit: "%" };
    Finding::at_most("hanging.weighed", "counterweights", measured, bounds, |verdict, _| {
        let figure =
            text!("hang-weighed", old = format!("{old:.2}"), reckoned = format!("{reckoned:.2}"));
        match verdict {
            Verdict::Clear => figure,
            _ => text!("hang-weigh-again", figure, each_after = format!("{each_after:.2}")),
        }
    })
}

fn judge(made: &InMetal, each: f64, limits: &Limits) -> Finding {
    let measured = Quantity::mm(made.left);
    let bounds = Bounds::caution(&limits.weight_gap_caution);
    let metal = || Text::Name(made.metal.name().to_owned());
    Finding::at_least("hanging.box", "weight box", measured, bounds, |verdict, _| match verdict {
        Verdict::Clear => {
            text!(
                "hang-weights-fit",
                metal = metal(),
                each = format!("{each:.2}"),
                length = format!("{:.0}", made.length)
            )
        }
        _ => text!("hang-no-room", metal = metal(), each = format!("{each:.2}")),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    // Closed form, worked out elsewhere: 5 kg at 38 mm.
    #[test]
    fn five_kilograms_at_38_mm() {
        for (metal, mm) in [(Metal::Lead, 388.78), (Metal::Iron, 612.32), (Metal::Steel, 561.62)] {
            assert_relative_eq!(length(5.0, 38.0, metal), mm, epsilon = 0.01);
        }
        assert_eq!(length(5.0, 0.0, Metal::Lead), f64::INFINITY);
    }

    #[test]
    fn upper_pairs_are_a_little_heavier_and_lower_ones_lighter() {
        assert_relative_eq!(2.0 * each(Kind::SlidingUpper, 20.0).unwrap(), 20.2268, epsilon = 1e-4);
        assert_relative_eq!(2.0 * each(Kind::SlidingLower, 20.0).unwrap(), 19.7732, epsilon = 1e-4);
        assert_eq!(each(Kind::SlidingLower, 0.0), Some(0.0));
        assert_eq!(each(Kind::SideHung, 20.0), None);
    }

    const ROOM: WeightBox = WeightBox { diameter: 40.0, height: 1500.0, travel: 700.0, old: None };

    fn hung(after: f64) -> Counterweights {
        let limits = Limits::default();
        counterweights(Kind::SlidingLower, (Some(12.0), after), &ROOM, &limits).unwrap()
    }

    fn in_box(hung: &Counterweights) -> &Finding {
        hung.findings.last().unwrap()
    }

    // By hand: 4.1 kg on the scale, the sash gains 6.96 kg: 4.1 + 3.48.
    #[test]
    fn the_scale_counts_more_than_the_reckoning() {
        let limits = Limits::default();
        let room = WeightBox { old: Some(4.1), ..ROOM };
        let weights = |before, after| {
            counterweights(Kind::SlidingUpper, (before, after), &room, &limits).unwrap()
        };
        let hung = weights(Some(6.45), 13.41);
        assert_relative_eq!(hung.each_after, 7.58, epsilon = 1e-9);
        assert_relative_eq!(hung.extra.unwrap(), 3.48, epsilon = 1e-9);
        assert!(hung.weighed);
        let told = &hung.findings[0];
        assert_eq!((told.rule, told.verdict), ("hanging.weighed", Verdict::Caution));
        for words in ["4.10 kg on the scale", "7.58 kg each", "before they are ordered"] {
            assert!(told.advised().contains(words), "{}", told.advised());
        }
        // Pairs of 7.52 and 8.92 kg would be nine per cent off, those of 7.2 and 9.3 over a tenth.
        for (before, verdict) in [
            (7.3, Verdict::Clear),
            (8.7, Verdict::Clear),
            (7.1, Verdict::Caution),
            (8.9, Verdict::Caution),
        ] {
            assert_eq!(weights(Some(before), 14.0).findings[0].verdict, verdict, "{before}");
        }
        // Without the old glass nothing is known of what it gains, and nothing can disagree.
        let unknown = weights(None, 13.41);
        assert!(!unknown.weighed && unknown.findings.len() == 1);
    }

    #[test]
    fn the_first_metal_with_room_is_named_and_none_is_a_caution() {
        let iron = hung(12.0);
        assert_eq!(in_box(&iron).verdict, Verdict::Clear);
        assert!(in_box(&iron).advised().contains("iron"));
        assert_relative_eq!(iron.extra.unwrap(), 0.0);
        let lead = hung(20.0);
        assert!(in_box(&lead).advised().contains("of lead"), "{}", in_box(&lead).advised());
        assert_relative_eq!(lead.extra.unwrap(), 4.0);
        assert_eq!(in_box(&hung(40.0)).verdict, Verdict::Caution);
        let limits = Limits::default();
        let upper = |before, room: &WeightBox| {
            counterweights(Kind::SlidingUpper, (before, 20.0), room, &limits)
        };
        let scaled = WeightBox { old: Some(5.5), ..ROOM };
        let extra = upper(None, &scaled).unwrap().extra.unwrap();
        assert_relative_eq!(extra, 10.1134 - 5.5, epsilon = 1e-4);
        // Neither weighed nor known: what each must weigh is known, but not what it must gain.
        let unknown = upper(None, &ROOM).unwrap();
        assert_eq!((unknown.extra, unknown.metals[0].extra), (None, None));
        let none = WeightBox { diameter: 0.0, ..ROOM };
        assert_eq!(upper(Some(12.0), &none), None);
        assert_eq!(counterweights(Kind::Fixed, (None, 20.0), &scaled, &limits), None);
    }

    proptest! {
        // A weight from the scale is never put aside: what is ordered is it and half the gain, and if
        // what was reckoned says another thing by more than a tenth, that is told.
        #[test]
        fn no_reckoning_overrides_a_scale_in_silence(
            old in 0.1..30.0_f64, before in 1.0..60.0_f64, gain in 0.0..30.0_f64,
        ) {
            let limits = Limits::default();
            let room = WeightBox { old: Some(old), ..ROOM };
            let hung = counterweights(Kind::SlidingLower, (Some(before), before + gain), &room, &limits).unwrap();
            prop_assert!((hung.each_after - old - gain / 2.0).abs() < 1e-9);
            let off = (each(Kind::SlidingLower, before).unwrap() / old - 1.0).abs();
            prop_assert_eq!(hung.findings[0].verdict == Verdict::Caution, off > 0.1);
        }

        #[test]
        fn more_weight_never_needs_less_counterweight(after in 0.0..80.0_f64, more in 0.0..40.0_f64) {
            let (light, heavy) = (hung(after), hung(after + more));
            prop_assert!(heavy.each_after >= light.each_after);
            for (a, b) in light.metals.iter().zip(&heavy.metals) {
                prop_assert!(b.length >= a.length && b.extra >= a.extra && b.left <= a.left);
            }
            prop_assert!(in_box(&heavy).verdict >= in_box(&light).verdict);
        }
    }
}
