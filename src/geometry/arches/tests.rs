//! Closed forms of each head, and what cannot be.

use super::*;
use approx::assert_relative_eq;
use proptest::prelude::*;

fn head_arcs(shape: &Sided) -> Vec<Arc> {
    shape
        .edges()
        .filter(|(_, side)| *side == Side::Top)
        .filter_map(|(edge, _)| if let Edge::Arc(arc) = edge { Some(*arc) } else { None })
        .collect()
}

fn smooth(shape: &Sided) -> bool {
    let arcs = head_arcs(shape);
    let joints = arcs.iter().zip(arcs.iter().skip(1));
    joints
        .into_iter()
        .all(|(a, b)| Edge::Arc(*a).direction(1.0).cross(Edge::Arc(*b).direction(0.0)).abs() < 1e-7)
}

// (800, 100): R 850, sweep 56.144974°, arc 832.9275, segment area 53 994.168. Closed form.
#[test]
fn a_segmental_head_has_the_closed_form() {
    let rise = 100.0;
    let shape = arched(800.0, Height::Springing(900.0), Head::Segmental { rise }).unwrap();
    let [arc] = head_arcs(&shape)[..] else { panic!("one arc") };
    assert_relative_eq!(arc.radius, 850.0, epsilon = 1e-9);
    assert_relative_eq!(arc.sweep.to_degrees(), 56.144_974, epsilon = 1e-5);
    assert_relative_eq!(Edge::Arc(arc).length(), 832.9275, epsilon = 1e-4);
    assert_relative_eq!(shape.outline().area(), 720_000.0 + 53_994.168, epsilon = 1e-3);
    let sides: Vec<Side> = shape.edges().map(|(_, side)| side).collect();
    assert_eq!(sides, [Side::Bottom, Side::Right, Side::Top, Side::Left]);
    let same = arched(800.0, Height::Total(1000.0), Head::Segmental { rise }).unwrap();
    assert_eq!(same, shape);
    let (a, b) = (600.0, 60.0);
    let shape = arched(a, Height::Springing(500.0), Head::Segmental { rise: b }).unwrap();
    assert_relative_eq!(head_arcs(&shape)[0].radius, 780.0, epsilon = 1e-9);
}

// Half a circle on its foot has no uprights: a fanlight. Area π r²/2.
#[test]
fn a_fanlight_springs_from_its_foot() {
    for height in [Height::Springing(0.0), Height::Total(450.0)] {
        let shape = arched(900.0, height, Head::Semicircular).unwrap();
        assert_eq!(shape.edges().count(), 2);
        assert_relative_eq!(shape.outline().area(), PI * 450.0 * 450.0 / 2.0, epsilon = 1e-6);
    }
}

// Area of half an ellipse: π a b / 2.
#[test]
fn an_elliptical_head_is_smooth_and_has_the_area_of_its_ellipse() {
    for rise in [150.0, 280.0, 400.0, 600.0] {
        let shape = arched(800.0, Height::Springing(500.0), Head::Elliptical { rise }).unwrap();
        assert!(smooth(&shape));
        let exact = 400_000.0 + PI * 400.0 * rise / 2.0;
        let off = (shape.outline().area() - exact).abs();
        assert!(off < FIT_WITHIN * shape.outline().perimeter() / 2.0, "{rise}: {off}");
        assert_relative_eq!(shape.bounds().y1, 500.0 + rise, epsilon = 1e-9);
    }
}

#[test]
fn a_three_centred_head_is_tangent_everywhere_with_the_least_ratio_of_radii() {
    let ratio = |haunch| {
        let head = Head::ThreeCentred { rise: 250.0, haunch };
        let shape = arched(1000.0, Height::Springing(800.0), head).unwrap();
        assert!(smooth(&shape));
        assert_relative_eq!(shape.bounds().y1, 1050.0, epsilon = 1e-9);
        // Tangent to the uprights.
        let first = Edge::Arc(head_arcs(&shape)[0]);
        assert!(first.direction(0.0).x.abs() < 1e-12);
        let [haunch, crown, other] = head_arcs(&shape)[..] else { panic!("three arcs") };
        assert_relative_eq!(haunch.radius, other.radius);
        (haunch.radius, crown.radius / haunch.radius)
    };
    let (radius, least) = ratio(None);
    // a = 500, h = 250, c = 559.017: r = c (c − 250)/1000, R = c (c + 250)/500.
    assert_relative_eq!(radius, 172.7458, epsilon = 1e-4);
    assert_relative_eq!(least, 5.2361, epsilon = 1e-4);
    for other in [100.0, 150.0, 170.0, 175.0, 200.0, 240.0] {
        assert!(ratio(Some(other)).1 > least);
    }
}

// Equilateral: rise √3/2 · w, area of the head w² (π/3 − √3/4).
#[test]
fn pointed_heads_have_their_rise() {
    let w = 700.0;
    let tall = |pointed| {
        let shape = arched(w, Height::Springing(600.0), Head::Pointed(pointed)).unwrap();
        (shape.bounds().y1 - 600.0, head_arcs(&shape)[0].radius, shape.outline().area() - 600.0 * w)
    };
    let (rise, radius, area) = tall(Pointed::Equilateral);
    assert_relative_eq!(rise, 3.0_f64.sqrt() / 2.0 * w, epsilon = 1e-9);
    assert_relative_eq!(radius, w);
    assert_relative_eq!(area, w * w * (PI / 3.0 - 3.0_f64.sqrt() / 4.0), epsilon = 1e-6);
    let (lancet, ..) = tall(Pointed::Radius(1000.0));
    assert_relative_eq!(lancet, (1000.0_f64.powi(2) - 650.0 * 650.0).sqrt(), epsilon = 1e-9);
    for rise in [400.0, 606.0, 900.0] {
        let (found, radius, _) = tall(Pointed::Rise(rise));
        assert_relative_eq!(found, rise, epsilon = 1e-9);
        assert_relative_eq!(tall(Pointed::Radius(radius)).0, rise, epsilon = 1e-6);
    }
}

#[test]
fn raked_heads_and_circles() {
    let shape = raked(600.0, 900.0, 700.0).unwrap();
    assert_relative_eq!(shape.outline().area(), 480_000.0);
    let tops: Vec<&Edge> = shape.edges().filter(|(_, s)| *s == Side::Top).map(|(e, _)| e).collect();
    assert_relative_eq!(tops[0].length(), 600.0_f64.hypot(200.0));
    let round = circle(500.0).unwrap();
    assert_relative_eq!(round.outline().area(), PI * 250.0 * 250.0, epsilon = 1e-6);
    assert_relative_eq!(round.bounds().x0, 0.0, epsilon = 1e-9);
    for (edge, side) in round.edges() {
        assert_eq!(crate::geometry::side_of(edge), side);
    }
}

#[test]
fn what_cannot_be_is_named() {
    let at = |head| arched(800.0, Height::Springing(900.0), head).unwrap_err();
    let segmental = |rise| at(Head::Segmental { rise });
    assert_eq!(segmental(0.0), ArchError::NotPositive("rise", 0.0));
    assert_eq!(segmental(-3.0), ArchError::NotPositive("rise", -3.0));
    assert_eq!(segmental(0.5), ArchError::TooSmall("rise", 0.5, 0.8));
    assert_eq!(segmental(401.0), ArchError::TooLarge("rise", 401.0, 400.0 + COINCIDENT));
    assert!(matches!(segmental(f64::NAN), ArchError::NotPositive("rise", value) if value.is_nan()));
    assert!(matches!(segmental(f64::INFINITY), ArchError::NotPositive(..)));
    let haunch = |rise, haunch| at(Head::ThreeCentred { rise, haunch });
    assert!(matches!(haunch(400.0, None), ArchError::TooLarge("rise", ..)));
    assert!(matches!(haunch(200.0, Some(200.0)), ArchError::TooLarge("haunch radius", ..)));
    assert!(matches!(haunch(200.0, Some(f64::NAN)), ArchError::NotPositive("haunch radius", _)));
    let pointed = |p| at(Head::Pointed(p));
    assert!(matches!(pointed(Pointed::Rise(400.0)), ArchError::TooSmall("rise", ..)));
    assert!(matches!(pointed(Pointed::Radius(399.0)), ArchError::TooSmall("radius", ..)));
    assert!(matches!(pointed(Pointed::Radius(1e9)), ArchError::TooLarge("radius", ..)));
    let low = arched(800.0, Height::Total(90.0), Head::Segmental { rise: 100.0 });
    assert!(matches!(low, Err(ArchError::TooSmall("total height", 90.0, _))));
    assert!(arched(0.0, Height::Total(900.0), Head::Level).is_err());
    assert!(arched(800.0, Height::Springing(0.0), Head::Level).is_err());
    assert!(raked(800.0, 0.0, 900.0).is_err());
    assert!(circle(-1.0).is_err());
    assert_eq!(
        segmental(401.0).to_string(),
        "the rise of 401.000 mm must not exceed 400.000 mm here"
    );
}

#[test]
fn a_free_outline_with_a_spike_or_a_crossing_is_refused() {
    let chain = |corners: &[(f64, f64)]| {
        let next = corners.iter().cycle().skip(1);
        free(corners.iter().zip(next).map(|(&a, &b)| Edge::line(a.into(), b.into())).collect())
    };
    assert!(chain(&[(0.0, 0.0), (90.0, 0.0), (90.0, 70.0), (0.0, 60.0)]).is_ok());
    // Out to (150, 0) and back.
    let spike = [(0.0, 0.0), (150.0, 0.0), (90.0, 0.0), (90.0, 70.0)];
    assert_eq!(chain(&spike).unwrap_err(), ArchError::Crosses(0, 1));
    let tie = [(0.0, 0.0), (90.0, 70.0), (90.0, 0.0), (0.0, 60.0)];
    assert_eq!(chain(&tie).unwrap_err(), ArchError::Crosses(0, 2));
    // A corner that touches the opposite edge.
    let touch = [(0.0, 0.0), (90.0, 0.0), (90.0, 70.0), (45.0, 0.0), (0.0, 70.0)];
    assert!(matches!(chain(&touch), Err(ArchError::Crosses(0, _))));
    let nan = [(0.0, 0.0), (f64::NAN, 0.0), (90.0, 70.0)];
    assert!(matches!(chain(&nan), Err(ArchError::Outline(OutlineError::Degenerate(_)))));
}

fn heads() -> impl Strategy<Value = Head> {
    let rise = -50.0..900.0;
    prop_oneof![
        Just(Head::Level),
        Just(Head::Semicircular),
        rise.clone().prop_map(|rise| Head::Segmental { rise }),
        rise.clone().prop_map(|rise| Head::Elliptical { rise }),
        (rise.clone(), prop::option::of(rise.clone()))
            .prop_map(|(rise, haunch)| Head::ThreeCentred { rise, haunch }),
        rise.clone().prop_map(|rise| Head::Pointed(Pointed::Rise(rise))),
        rise.prop_map(|radius| Head::Pointed(Pointed::Radius(radius))),
    ]
}

proptest! {
    // Whatever is asked for: an error, or an outline as wide and high as asked that does not cross.
    #[test]
    fn every_outline_is_as_asked(
        width in 20.0..1500.0, height in 0.0..2000.0, total in any::<bool>(), head in heads(),
    ) {
        let asked = if total { Height::Total(height) } else { Height::Springing(height) };
        if let Ok(shape) = arched(width, asked, head) {
            let bounds = shape.bounds();
            prop_assert!(!shape.outline().crosses_itself(), "{:?}", shape.outline());
            // A lancet's or stilted head's arcs never reach beyond the uprights.
            prop_assert!(bounds.x0.abs() < 1e-6 && (bounds.x1 - width).abs() < 1e-6, "{:?}", bounds);
            if total {
                prop_assert!((bounds.y1 - height).abs() < 1e-6);
            } else {
                prop_assert!(bounds.y1 >= height);
            }
        }
    }
}
