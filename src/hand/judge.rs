//! What a hand router can be expected to do, judged. All of it asks for care only: a machine may cut the
//! same sash.

use super::bearing::{Face, Faces, faces, width_given};
use super::{by_bush, template, template_offset};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict, up_to_tenth};
use crate::fit::{Fit, UnitFit};
use crate::geometry::OutlineError;
use crate::language::{Text, text};
use crate::number::{NotFinite, decimal};
use crate::sash::Sash;
use crate::survey::{Bearing, GuidedBy, Limits, Workshop};

/// The findings for the bush and its template; depth has no part in them.
///
/// # Errors
/// Where an aperture of the template has no area.
pub fn guides(
    sash: &Sash,
    units: &[UnitFit],
    workshop: &Workshop,
) -> Result<Vec<Finding>, OutlineError> {
    let (router, cutter, limits) = (&workshop.router, &workshop.cutter, &workshop.limits);
    if router.guided_by != GuidedBy::Bush {
        return Ok(Vec::new());
    }
    let of_plate = template::plate(sash, units, router, cutter)?
        .map(|found| plate(found.bearing, &found.bearing_at, limits));
    Ok([bush(workshop)].into_iter().chain(of_plate).collect())
}

/// Every finding for a router in the hand, those of the [`guides`] first.
///
/// # Errors
/// Where a width is not finite.
pub fn judge(
    guides: &[Finding],
    sash: &Sash,
    fit: &Fit,
    workshop: &Workshop,
) -> Result<Vec<Finding>, NotFinite> {
    let router = &workshop.router;
    let mut findings = guides.to_vec();
    findings.extend(reach(workshop, fit));
    if let Some(bearing) = router.bearing {
        for faces in faces(sash, fit, &workshop.cutter) {
            let place = format!("{}, {}", faces.light, faces.side);
            findings.extend(runs(&place, &faces, bearing, workshop)?);
        }
    }
    Ok(findings)
}

/// `hand.bush`: the cutter must pass the guide bush, and so must its shank.
fn bush(workshop: &Workshop) -> Finding {
    let (router, cutter) = (&workshop.router, &workshop.cutter);
    let edges_pass = template_offset(router, cutter).is_some();
    let widest = cutter.diameter.max(cutter.shank_diameter);
    let passes = edges_pass && router.guide_bush > widest;
    Finding {
        rule: "hand.bush",
        place: Text::name("guide bush"),
        measured: Quantity::mm(router.guide_bush),
        limit: Quantity::mm(widest),
        verdict: if passes { Verdict::Clear } else { Verdict::Caution },
        advice: if passes {
            text!("hand-bush-passed")
        } else if edges_pass {
            text!("hand-bush-shank")
        } else {
            text!("hand-bush-cutter")
        },
        basis: Basis::Geometry,
    }
}

/// `hand.plate-bearing`: plate that is left for the bush to run on.
fn plate(width: f64, at: &str, limits: &Limits) -> Finding {
    let bounds = Bounds::caution(&limits.plate_bearing_caution);
    let at = at.to_owned();
    Finding::at_least(
        "hand.plate-bearing",
        at.clone(),
        Quantity::mm(width),
        bounds,
        |verdict, _| match verdict {
            Verdict::Clear => text!("hand-plate-enough"),
            _ if width <= 0.0 => text!("guide-apertures-meet", at = Text::Name(at)),
            _ => {
                text!("hand-plate-narrow")
            }
        },
    )
}

/// How far the tip must stand below the router's base for the deepest pass, mm: the new depth, and the
/// template's plate on top of it.
pub fn reach_needed(workshop: &Workshop, depth: f64) -> f64 {
    depth + if by_bush(workshop) { workshop.router.plate } else { 0.0 }
}

/// `hand.reach`: a nut cannot come below the base, so the cutter must stand further out of it than the
/// tip goes below the base.
fn reach(workshop: &Workshop, fit: &Fit) -> Option<Finding> {
    let holder = workshop.cutter.holder?;
    let needed = reach_needed(workshop, fit.depth);
    Some(Finding::at_least(
        "hand.reach",
        "cutter",
        Quantity::mm(holder.stick_out),
        Bounds::caution(Bound::geometry(needed)),
        |verdict, needed| match verdict {
            Verdict::Clear => text!("hand-reaches"),
            _ => text!("hand-reach", least = format!("{:.1}", up_to_tenth(needed))),
        },
    ))
}

/// `hand.bearing-width` and `hand.bearing-face`, for the face that suits the bearing better.
fn runs(
    place: &str,
    faces: &Faces,
    bearing: Bearing,
    workshop: &Workshop,
) -> Result<Vec<Finding>, NotFinite> {
    let given = width_given(workshop.cutter.diameter, bearing.diameter);
    let off = |face: &Face| (given - face.behind.least).abs().max((given - face.behind.most).abs());
    let on_edge = (&faces.sight_edge, "sight edge");
    let on_wall = faces.old_wall.as_ref().map(|face| (face, "old wall"));
    let (face, name) = match on_wall {
        Some(wall) if off(wall.0) < off(on_edge.0) => wall,
        _ => on_edge,
    };
    let (cuts, wanted) = (decimal(given, 1)?, decimal(face.behind.least, 1)?);
    let width = Finding::at_most(
        "hand.bearing-width",
        place,
        Quantity::mm(off(face)),
        Bounds::caution(&workshop.limits.bearing_off_caution),
        |verdict, _| match verdict {
            Verdict::Clear => text!("hand-bearing-fits", name = named(name)),
            _ => text!(
                "hand-bearing-off",
                name = named(name),
                cuts = cuts.to_string(),
                wanted = wanted.to_string()
            ),
        },
    );
    // Whether it could run there matters only where its width is right.
    Ok(if width.verdict == Verdict::Clear {
        vec![width, upright(place, face, name, bearing)]
    } else {
        vec![width]
    })
}

/// What the bearing runs on.
fn named(face: &str) -> Text {
    Text::Name(face.to_owned())
}

fn upright(place: &str, face: &Face, name: &str, bearing: Bearing) -> Finding {
    let in_the_way = Text::listed(&face.in_the_way);
    // Nothing to run on where something stands in the way.
    let height = if face.in_the_way.is_empty() { face.height.max(0.0) } else { 0.0 };
    Finding::at_least(
        "hand.bearing-face",
        place,
        Quantity::mm(height),
        Bounds::caution(Bound { value: bearing.height, basis: Basis::Setting }),
        |verdict, _| match verdict {
            Verdict::Clear => {
                text!("hand-face-enough", name = named(name))
            }
            _ if !face.in_the_way.is_empty() => {
                text!("hand-face-in-the-way", name = named(name), in_the_way)
            }
            _ => text!("hand-face-too-little", name = named(name)),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use crate::survey::{BarsAs, Holder, Moulding};
    use crate::{fit, survey};

    fn judged(survey: &survey::Sash, workshop: &Workshop) -> Vec<Finding> {
        let sash = Sash::new(survey).unwrap();
        let fit = fit::fit(&sash, workshop).unwrap();
        judge(&guides(&sash, &fit.units, workshop).unwrap(), &sash, &fit, workshop).unwrap()
    }

    fn finding<'a>(findings: &'a [Finding], rule: &str, place: &str) -> &'a Finding {
        let one = findings.iter().find(|f| f.rule == rule && f.place.to_string().contains(place));
        one.unwrap_or_else(|| panic!("{rule} at {place}: {findings:?}"))
    }

    // By hand: bars of 40 less 14 on both sides leave a web of 12, and two offsets of 6 nothing.
    #[test]
    fn plate_too_narrow_for_the_bush_wants_care() {
        let (mut survey, workshop) = (casement(), Workshop::default());
        survey.bars_as = BarsAs::UnitPerLight;
        for (width, bearing, verdict) in [
            (40.0, 0.0, Verdict::Caution),
            (47.9, 7.9, Verdict::Caution),
            (48.0, 8.0, Verdict::Clear),
        ] {
            for bar in &mut survey.bars {
                bar.width = width;
            }
            let findings = judged(&survey, &workshop);
            let found = finding(&findings, "hand.plate-bearing", "between");
            assert!((found.measured.value - bearing).abs() < 1e-9, "{found:?}");
            assert_eq!(found.verdict, verdict, "{width}");
        }
    }

    // By hand: 27 deep and a plate of 12 make 39; with a straightedge 27.
    #[test]
    fn the_plate_takes_from_the_cutters_reach() {
        let (survey, mut workshop) = (casement(), Workshop::default());
        assert!(!judged(&survey, &workshop).iter().any(|f| f.rule == "hand.reach"));
        for (by, stick_out, verdict) in [
            (GuidedBy::Bush, 38.9, Verdict::Caution),
            (GuidedBy::Bush, 39.0, Verdict::Clear),
            (GuidedBy::Straightedge, 26.9, Verdict::Caution),
            (GuidedBy::Straightedge, 27.0, Verdict::Clear),
        ] {
            workshop.router.guided_by = by;
            workshop.cutter.holder = Some(Holder { diameter: 40.0, stick_out });
            assert_eq!(finding(&judged(&survey, &workshop), "hand.reach", "").verdict, verdict);
        }
    }

    #[test]
    fn a_cutter_that_does_not_pass_the_bush_is_found() {
        let (survey, mut workshop) = (casement(), Workshop::default());
        assert_eq!(finding(&judged(&survey, &workshop), "hand.bush", "").verdict, Verdict::Clear);
        workshop.router.guide_bush = 12.0;
        assert_eq!(finding(&judged(&survey, &workshop), "hand.bush", "").verdict, Verdict::Caution);
        // A slim cutter on a thick shank.
        (workshop.cutter.diameter, workshop.cutter.shank_diameter) = (8.0, 12.0);
        let findings = judged(&survey, &workshop);
        assert!(finding(&findings, "hand.bush", "").advised().contains("shank"));
        workshop.router.guide_bush = 12.1;
        assert_eq!(finding(&judged(&survey, &workshop), "hand.bush", "").verdict, Verdict::Clear);
    }

    // By hand: a cutter of 38 and a bearing of 10 give 14, right for three sides, and 2 too little at the
    // bottom, where 16 are wanted. The ovolo of 8 leaves 45 - 27 - 8 = 10 of upright face.
    #[test]
    fn a_bearing_is_held_to_width_and_face() {
        let (mut survey, mut workshop) = (casement(), Workshop::default());
        survey.bars.clear();
        workshop.cutter.diameter = 38.0;
        workshop.router.bearing = Some(Bearing { diameter: 10.0, height: 10.0 });
        let findings = judged(&survey, &workshop);
        assert_eq!(finding(&findings, "hand.bearing-width", "left").verdict, Verdict::Clear);
        assert_eq!(finding(&findings, "hand.bearing-face", "left").verdict, Verdict::Clear);
        assert_eq!(finding(&findings, "hand.bearing-width", "bottom").verdict, Verdict::Caution);
        assert!(
            !findings
                .iter()
                .any(|f| f.rule == "hand.bearing-face" && f.place.to_string().ends_with("bottom"))
        );
        survey.members.left.moulding = Moulding::Chamfer { width: 8.0, depth: 8.1 };
        let findings = judged(&survey, &workshop);
        assert_eq!(finding(&findings, "hand.bearing-face", "left").verdict, Verdict::Caution);
        // Bars end on the sight edge of the rails.
        let findings = judged(&casement(), &workshop);
        assert_eq!(finding(&findings, "hand.bearing-face", "left").verdict, Verdict::Clear);
        assert!(finding(&findings, "hand.bearing-face", "top").advised().contains("upright bar 1"));
        // The old wall at 9 wants 5 more: a cutter of 22 and a bearing of 12 give that.
        workshop.cutter.diameter = 22.0;
        workshop.router.bearing = Some(Bearing { diameter: 12.0, height: 5.0 });
        let findings = judged(&casement(), &workshop);
        assert!(finding(&findings, "hand.bearing-face", "top").advised().contains("old wall"));
    }
}
