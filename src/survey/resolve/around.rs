//! What stands round a sash, and what a unit is made of.

use crate::geometry::{COINCIDENT, PerSide};
use crate::input::{Optional, Reader, show};
use crate::survey::file::around::{HingesTable, PlaceTable, WeatherTable, WeightsTable};
use crate::survey::file::sash::SashTable;
use crate::survey::values::{
    Around, Conditions, CordGroove, Cords, Hinges, Kind, Member, Place, Site, Weather, WeightBox,
    Wind,
};

/// Boxes and hinges may stand in any sash: those that its kind has no use for are not judged.
pub(super) fn around(table: &SashTable, reader: &mut Reader<'_>) -> Around {
    Around {
        old_glass: table.old_glass.value(),
        weights: table.weights.as_ref().and_then(|given| weights(given, reader)),
        hinges: table.hinges.as_ref().and_then(|given| hinges(given)),
        opens: table.opens.value(),
        place: place(&table.place.value_or_default()),
        weather: weather(&table.weather.value_or_default()),
    }
}

/// Net pressure coefficient near the corner of a house, on panes up to 1 m²: EN 1991-1-4, zone A of table 7.1, -1.4
/// (published, as a facade engineer has it), and 0.2 inside (7.2.9). The most there is on a wall.
const NEAR_CORNER: f64 = 1.6;

/// A pressure, or the site that it is reckoned from.
pub(super) fn wind(table: &SashTable, reader: &mut Reader<'_>) -> Wind {
    let site = table.weather.as_ref().and_then(|weather| weather.value.site.as_ref());
    if let (Some(stated), true) = (&table.wind, site.is_some()) {
        let expected = "either a pressure or the weather's site, not both".to_owned();
        reader.contradict(&stated.place, expected, "leave one of them out");
    }
    let site = site.and_then(|site| {
        let (speed, height) = (site.value.speed.value()?, site.value.height.value()?);
        let terrain = site.value.terrain.value()?;
        Some(Wind::Site(Site {
            speed,
            terrain,
            height,
            coefficient: site.value.coefficient.value_or(NEAR_CORNER),
        }))
    });
    site.or(table.wind.value().map(Wind::Stated)).unwrap_or(Wind::Assumed)
}

/// Grooves of a sash that slides, with its daylight `sight` mm high; whether any fits into its stiles.
pub(super) fn cords(
    table: &SashTable,
    kind: Kind,
    sight: f64,
    members: &PerSide<Member>,
    reader: &mut Reader<'_>,
) -> Cords {
    if !kind.slides() {
        return Cords::None;
    }
    let Some(given) = &table.cord_groove else { return Cords::NotStated };
    let Some(depth) = given.value.depth.as_ref() else { return Cords::NotStated };
    if depth.value <= COINCIDENT {
        return Cords::None;
    }
    let stiles = [&members.left, &members.right];
    let least = |of: fn(&Member) -> f64| stiles.map(of).into_iter().fold(f64::INFINITY, f64::min);
    let (narrow, thin) = (least(|stile| stile.width), least(|stile| stile.thickness));
    let width = given.value.width.value_or(depth.value);
    let from_face = given.value.from_face.value_or((thin - width) / 2.0);
    if depth.value >= narrow - COINCIDENT {
        let expected = format!("less than {} mm, the width of the stile", show(narrow));
        reader.contradict(&depth.place, expected, "");
    }
    if from_face < 0.0 || from_face + width > thin + COINCIDENT {
        let expected = format!("a groove within the {} mm of the stile's thickness", show(thin));
        reader.contradict(&given.place, expected, "");
    }
    let height = sight + members.top.width + members.bottom.width;
    let length = given.value.length.value_or(height / 2.0);
    Cords::Groove(CordGroove { depth: depth.value, width, from_face, length })
}

fn weights(table: &WeightsTable, reader: &mut Reader<'_>) -> Option<WeightBox> {
    let (height, travel) = (table.height.as_ref()?, table.travel.as_ref()?);
    if travel.value > height.value + COINCIDENT {
        let expected = format!("at most {} mm, the height of the box", show(height.value));
        reader.contradict(&travel.place, expected, "the weight falls as far as the sash rises");
    }
    Some(WeightBox {
        diameter: table.diameter.as_ref()?.value,
        height: height.value,
        travel: travel.value,
        old: table.old.value(),
    })
}

fn hinges(table: &HingesTable) -> Option<Hinges> {
    Some(Hinges {
        apart: table.apart.as_ref()?.value,
        count: table.count.value_or(2),
        screws: table.screws.as_ref()?.value,
        diameter: table.diameter.as_ref()?.value,
        thread: table.thread.as_ref()?.value,
        cleared: table.cleared(),
    })
}

fn place(table: &PlaceTable) -> Place {
    Place {
        country: table.country.value(),
        opening: table.opening.value(),
        floor: table.floor.value(),
        walkway: table.walkway.value(),
        near: table.near.as_ref().map(|near| near.value.iter().map(|what| what.value).collect()),
        drop: table.drop.value(),
        built: table.built.value(),
        listed: table.listed.value(),
    }
}

fn weather(table: &WeatherTable) -> Weather {
    Weather {
        room: Conditions {
            inside: table.room(),
            humidity: table.humidity(),
            outside: table.outdoors(),
        },
        degree_hours: table.degree_hours.value(),
        altitude: table.altitude.value(),
        sealed_altitude: table.sealed_altitude.value(),
        sealed_temperature: table.sealed_temperature(),
        sealed_barometer: table.sealed_barometer(),
        gas: [table.gas_hottest(), table.gas_coldest()],
        barometer: [table.barometer_low(), table.barometer_high()],
    }
}

// Of a table in which nothing is said: so each default stands once, at its key.
impl Default for Weather {
    fn default() -> Self {
        weather(&WeatherTable::default())
    }
}

impl Default for Conditions {
    fn default() -> Self {
        Weather::default().room
    }
}
