//! Measures as rules laid on the pictures, each for its field; and bars that can be taken hold of.

use crate::job::Picture;
use crate::sheets::kit::{Voice, figure, tell};
use crate::survey::{Course, Moulding, OldGlazing, Runs, Sash};
use kurbo::Rect;
use maud::{Markup, PreEscaped, html};

/// A measure between two places of a picture's frame, mm.
struct Rule {
    /// The field.
    key: String,
    from: [f64; 2],
    to: [f64; 2],
}

/// A bar that runs through from side to side: where it is, and the field of that.
struct Bar {
    key: String,
    name: String,
    runs: Runs,
    centre: f64,
    width: f64,
}

/// What lies over a picture.
pub(super) struct Over {
    rules: Vec<Rule>,
    bars: Vec<Bar>,
    sight: [f64; 2],
}

/// Over the elevation of the sash of that number; `bars` of its own are written in the survey.
pub(super) fn elevation(sash: &Sash, number: usize, bars: usize, voice: Voice) -> Over {
    let (wide, high) = (sash.sight.width, sash.sight.height);
    let members = &sash.members;
    let sides = [&members.left, &members.right, &members.bottom, &members.top];
    let [left, right, bottom, top] = sides.map(|member| member.width);
    let horns = &sash.horns;
    let outer = Rect::new(-left, -bottom - horns.bottom, wide + right, high + top + horns.top);
    let stile = ([-left, 0.3 * high], [0.0, 0.3 * high]);
    let rail = ([0.3 * wide, -bottom], [0.3 * wide, 0.0]);
    // Where two fields ask for one measure, a tap goes to the first.
    let mut rules = vec![
        ("sight.width", [0.0, 0.55 * high], [wide, 0.55 * high]),
        ("sight.height", [0.6 * wide, 0.0], [0.6 * wide, high]),
        ("stiles.width", stile.0, stile.1),
        ("stiles.left", stile.0, stile.1),
        ("stiles.right", [wide, 0.3 * high], [wide + right, 0.3 * high]),
        ("rails.bottom", rail.0, rail.1),
        ("rails.width", rail.0, rail.1),
        ("rails.top", [0.3 * wide, high], [0.3 * wide, high + top]),
        ("overall.width", [outer.x0, 0.45 * high], [outer.x1, 0.45 * high]),
        ("overall.height", [0.4 * wide, outer.y0], [0.4 * wide, outer.y1]),
        ("horns.bottom", [-0.5 * left, outer.y0], [-0.5 * left, -bottom]),
        ("horns.top", [-0.5 * left, high + top], [-0.5 * left, outer.y1]),
    ];
    if sash.outline.is_some() {
        rules.push(("sight.diameter", [0.0, 0.5 * high], [wide, 0.5 * high]));
    }
    if let OldGlazing::Rebate { width, .. } = members.left.old {
        rules.push(("rebate.width", [-width, 0.7 * high], [0.0, 0.7 * high]));
    }
    let mut rules = keyed(number, &rules);
    let mut own = Vec::new();
    for (index, bar) in sash.bars.iter().take(bars).enumerate() {
        let key = format!("sash[{number}].bars[{}]", index + 1);
        let half = bar.width / 2.0;
        if let Course::Between(edge) = &bar.course {
            let (middle, aside) = (edge.at(0.5), half * edge.direction(0.5).turn_90());
            let [from, to] = [middle - aside, middle + aside].map(|end| [end.x, end.y]);
            rules.push(Rule { key: format!("{key}.width"), from, to });
            continue;
        }
        let across = |at: f64, along: f64| match bar.runs {
            Runs::Upright => [at, along * high],
            Runs::Cross => [along * wide, at],
        };
        // What leans is where its centre says only in the middle.
        let ways = if bar.lean == 0.0 { [0.85, 0.15] } else { [0.5; 2] };
        for (name, from, to, along) in [
            ("centre", 0.0, bar.centre, ways[0]),
            ("width", bar.centre - half, bar.centre + half, ways[1]),
        ] {
            let key = format!("{key}.{name}");
            rules.push(Rule { key, from: across(from, along), to: across(to, along) });
        }
        if bar.lean == 0.0 {
            own.push(Bar {
                key: format!("{key}.centre"),
                name: tell!(voice, "page-bar", number = index + 1),
                runs: bar.runs,
                centre: bar.centre,
                width: bar.width,
            });
        }
    }
    Over { rules, bars: own, sight: [wide, high] }
}

/// Over the section of a stile.
pub(super) fn section(sash: &Sash, number: usize) -> Over {
    let member = &sash.members.left;
    let (wide, thick) = (member.width, member.thickness);
    let mut rules = vec![("thickness", [0.6 * wide, 0.0], [0.6 * wide, -thick])];
    if let OldGlazing::Rebate { width, depth } = member.old {
        rules.push(("rebate.width", [0.0, -0.5 * depth], [width, -0.5 * depth]));
        rules.push(("rebate.depth", [0.5 * width, 0.0], [0.5 * width, -depth]));
    }
    if let Moulding::Chamfer { width, depth }
    | Moulding::Ovolo { width, depth }
    | Moulding::Ogee { width, depth } = member.moulding
    {
        rules.push(("moulding.width", [0.0, -thick], [width, -thick]));
        rules.push(("moulding.depth", [0.0, depth - thick], [0.0, -thick]));
    }
    Over { rules: keyed(number, &rules), bars: Vec::new(), sight: [0.0; 2] }
}

fn keyed(number: usize, rules: &[(&str, [f64; 2], [f64; 2])]) -> Vec<Rule> {
    let rule = |(key, from, to): &(&str, [f64; 2], [f64; 2])| Rule {
        key: format!("sash[{number}].{key}"),
        from: *from,
        to: *to,
    };
    // A tap finds nothing that has no length, as a horn that is none.
    let has_length =
        |(_, from, to): &&(_, [f64; 2], [f64; 2])| (to[0] - from[0]).hypot(to[1] - from[1]) > 0.0;
    rules.iter().filter(has_length).map(rule).collect()
}

/// From the frame of what a picture shows to its own.
pub(super) fn frame(picture: &Picture) -> String {
    let [left, top] = picture.corner;
    format!("translate({:.3} {top:.3}) scale(1 -1)", -left)
}

/// Letters on a picture, as a share of its height.
const LETTERS: f64 = 1.0 / 24.0;

/// The picture with what lies over it.
pub(super) fn laid(picture: &Picture, over: &Over) -> Markup {
    let ground = picture.svg.trim_end().trim_end_matches("</svg>");
    let letters = picture.size[1] * LETTERS;
    html! {
        (PreEscaped(ground))
        g.rules transform=(frame(picture)) {
            @for bar in &over.bars { (held(bar, over.sight)) }
            @for rule in &over.rules { (ruler(rule, letters)) }
        }
        (PreEscaped("</svg>"))
    }
}

fn ruler(Rule { key, from: [x1, y1], to: [x2, y2] }: &Rule, letters: f64) -> Markup {
    let length = (x2 - x1).hypot(y2 - y1);
    let at = [x1, y1, x2, y2].map(|at| format!("{at:.3}"));
    let [x1s, y1s, x2s, y2s] = &at;
    // Ends square to it.
    let (ux, uy) = if length > 0.0 { ((x2 - x1) / length, (y2 - y1) / length) } else { (0.0, 0.0) };
    let end = |x: f64, y: f64| {
        let (dx, dy) = (-uy * letters * 0.7, ux * letters * 0.7);
        format!("M{:.3} {:.3}L{:.3} {:.3}", x - dx, y - dy, x + dx, y + dy)
    };
    let ends = end(*x1, *y1) + &end(*x2, *y2);
    let middle = [f64::midpoint(*x1, *x2), f64::midpoint(*y1, *y2)];
    html! {
        g.rule data-key=(key) data-ends=(at.join(" ")) {
            line.wood x1=(x1s) y1=(y1s) x2=(x2s) y2=(y2s) stroke-width=(format!("{:.2}", letters)) {}
            line x1=(x1s) y1=(y1s) x2=(x2s) y2=(y2s) {}
            path d=(ends) {}
            text text-anchor="middle" font-size=(format!("{letters:.2}"))
                transform=(format!("translate({:.3} {:.3}) scale(1 -1)", middle[0], middle[1] + 0.35 * letters)) {
                (figure(length))
            }
        }
    }
}

fn held(Bar { key, name, runs, centre, width }: &Bar, [wide, high]: [f64; 2]) -> Markup {
    let (axis, most, [x, y], [across, along]) = match runs {
        Runs::Upright => ("x", wide, [centre - width / 2.0, 0.0], [*width, high]),
        Runs::Cross => ("y", high, [0.0, centre - width / 2.0], [wide, *width]),
    };
    let centre = figure(*centre);
    html! {
        rect.bar tabindex="0" role="slider" aria-label=(name) aria-valuemin="0" aria-valuemax=(figure(most))
            aria-valuenow=(centre) aria-valuetext={ (centre) " mm" }
            aria-orientation=(if axis == "x" { "horizontal" } else { "vertical" })
            data-key=(key) data-axis=(axis) x=(format!("{x:.3}")) y=(format!("{y:.3}"))
            width=(format!("{across:.3}")) height=(format!("{along:.3}")) {}
    }
}
