//! Parts that are the same in every measure share one drawing.

use super::of_parts;
use crate::drawing::Scene;
use crate::fit::Fit;
use crate::sash::{Part, Sash};
use crate::sheets::SheetError;
use crate::sheets::kit::Voice;
use crate::sheets::section::Section;
use crate::timber::Timber;

/// The section drawings of a sash, each with a name for its file: `left-and-right-stile`,
/// `upright-bar-1`. In the order of the survey. `timber` is what `fit` leaves of `sash`, `voice` says what
/// stands at it, `draw` how the figures stand.
///
/// # Errors
/// Where a piece has no area; a survey that was read without a mistake has none such.
pub fn sections(
    sash: &Sash,
    fit: &Fit,
    timber: &Timber,
    voice: Voice,
    draw: impl Fn(&Section) -> Result<Scene, SheetError>,
) -> Result<Vec<(String, Scene)>, SheetError> {
    drawn(sash, fit, timber, voice, draw)?.collect()
}

/// The same, each drawn when it is asked for.
///
/// # Errors
/// As [`sections`].
pub fn drawn(
    sash: &Sash,
    fit: &Fit,
    timber: &Timber,
    voice: Voice,
    draw: impl Fn(&Section) -> Result<Scene, SheetError>,
) -> Result<impl Iterator<Item = Result<(String, Scene), SheetError>>, SheetError> {
    let mut shared: Vec<(Vec<Part>, Section)> = Vec::new();
    for (part, section) in of_parts(sash, fit, timber, voice)? {
        match shared.iter_mut().find(|(_, other)| is_alike(other, &section)) {
            Some((parts, _)) => parts.push(part),
            None => shared.push((vec![part], section)),
        }
    }
    Ok(shared.into_iter().map(move |(parts, mut section)| {
        let name = name_of(sash, &parts);
        section.title = format!("{}, {}", sash.measured.id, voice.named(&name));
        Ok((name.replace(", ", "-").replace(' ', "-"), draw(&section)?))
    }))
}

/// Whether both look the same but for their titles.
fn is_alike(a: &Section, b: &Section) -> bool {
    *a == Section { title: a.title.clone(), ..b.clone() }
}

/// `left and right stile and top rail`, `upright bars 1 and 2`.
fn name_of(sash: &Sash, parts: &[Part]) -> String {
    // What one kind of part has in common, and what tells its parts apart.
    let mut kinds: Vec<(String, Vec<String>)> = Vec::new();
    for &part in parts {
        let name = sash.part_name(part);
        let Some((first, last)) = name.rsplit_once(' ') else { continue };
        let (kind, own) = if matches!(part, Part::Bar(_)) { (first, last) } else { (last, first) };
        match kinds.iter_mut().find(|(known, _)| known == kind) {
            Some((_, all)) => all.push(own.to_owned()),
            None => kinds.push((kind.to_owned(), vec![own.to_owned()])),
        }
    }
    let named = |(kind, own): &(String, Vec<String>)| match (kind.ends_with("bar"), own.len()) {
        (true, 1) => format!("{kind} {}", list(own)),
        (true, _) => format!("{kind}s {}", list(own)),
        (false, _) => format!("{} {kind}", list(own)),
    };
    list(&kinds.iter().map(named).collect::<Vec<_>>())
}

/// `a`, `a and b`, `a, b and c`.
fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::geometry::{Outline, Side, Sided};
    use crate::sash::tests::casement;
    use crate::survey::{self, Moulding, Workshop};

    fn names(survey: &survey::Sash) -> Vec<String> {
        let (sash, workshop) = (Sash::new(survey).unwrap(), Workshop::default());
        let fit = fit(&sash, &workshop).unwrap();
        let timber = crate::timber::judge(&sash, &fit, &workshop.limits);
        let drawn =
            sections(&sash, &fit, &timber, Voice::plain(), |section| section.scene(Voice::plain()))
                .unwrap();
        drawn.into_iter().map(|(name, _)| name).collect()
    }

    #[test]
    fn like_parts_are_drawn_once() {
        let mut survey = casement();
        // The bottom rail alone has setting blocks under the unit.
        let all = ["left-and-right-stile-and-top-rail", "bottom-rail", "upright-bars-1-and-2"];
        assert_eq!(names(&survey), all);
        survey.members.top.width = 60.0;
        survey.bars[1].moulding = Moulding::Square;
        let apart =
            ["left-and-right-stile", "bottom-rail", "top-rail", "upright-bar-1", "upright-bar-2"];
        assert_eq!(names(&survey), apart);
    }

    // Closed form: the right edge leans out by 6 mm over 930, so that a square unit of 12 mm cover reaches 18 behind
    // it at the bottom and the rebate is 20 wide there; the clearance is 2 all along.
    #[test]
    fn a_side_that_tapers_is_drawn_at_one_place() {
        let mut survey = casement();
        let corners = [(0.0, 0.0), (820.0, 0.0), (826.0, 930.0), (0.0, 930.0)];
        let corners = corners.map(kurbo::Point::from);
        survey.outline = Some(Sided::by_direction(Outline::polygon(&corners).unwrap()));
        survey.sight = kurbo::Size::new(826.0, 930.0);
        survey.bars.clear();
        let (sash, workshop) = (Sash::new(&survey).unwrap(), Workshop::default());
        let fit = fit(&sash, &workshop).unwrap();
        let timber = crate::timber::judge(&sash, &fit, &workshop.limits);
        let parts = of_parts(&sash, &fit, &timber, Voice::plain()).unwrap();
        let (_, right) = parts.iter().find(|(part, _)| *part == Part::Member(Side::Right)).unwrap();
        let caption = "section at its lower end, where the new rebate is widest, glazing face up";
        assert_eq!(right.caption, caption);
        let scene = right.scene(Voice::plain()).unwrap();
        let words: Vec<String> = scene.texts().map(|text| text.value.clone()).collect();
        for figure in ["20", "cover 18", "clearance 2", "beside 32"] {
            assert!(words.iter().any(|words| words == figure), "{figure}: {words:?}");
        }
        // The left stile is the same all along.
        assert_eq!(parts[0].1.caption, "section, glazing face up");
    }

    #[test]
    fn parts_are_named_together_as_a_joiner_would() {
        let mut survey = casement();
        survey.bars.push(survey.bars[0].clone());
        survey.bars[2].runs = survey::Runs::Cross;
        let sash = Sash::new(&survey).unwrap();
        let (left, right) = (Part::Member(Side::Left), Part::Member(Side::Right));
        assert_eq!(name_of(&sash, &[left, right]), "left and right stile");
        assert_eq!(name_of(&sash, &[Part::Member(Side::Top)]), "top rail");
        let bars: Vec<Part> = sash.bars.iter().map(Part::Bar).collect();
        assert_eq!(name_of(&sash, &bars), "upright bars 1 and 2 and cross bar 3");
    }
}
