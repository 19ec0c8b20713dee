//! What stands round a sash, and what a unit is made of.

use crate::geometry::SAME;
use crate::survey::file::{
    AllowancesTable, CandidatesTable, HingesTable, OfferedTable, PlaceTable, SashTable,
    WeatherTable, WeightsTable,
};
use crate::survey::reader::{Reader, Seen};
use crate::survey::scalars::show;
use crate::survey::{
    Allowances, Around, Candidates, Conditions, Hinges, Offered, Place, Weather, WeightBox,
};

fn or<T: Copy>(seen: Option<&Seen<T>>, usual: T) -> T {
    seen.map_or(usual, |seen| seen.value)
}

fn known<T: Copy>(seen: Option<&Seen<T>>) -> Option<T> {
    seen.map(|seen| seen.value)
}

/// Gas, coat, spacer and glass of a table that has their keys.
macro_rules! make {
    ($table:expr) => {
        $crate::survey::Make {
            gas: $table.gas.as_ref().map(|seen| seen.value),
            share: $table
                .share
                .as_ref()
                .map_or($crate::survey::Make::default().share, |seen| seen.value),
            emissivity: $table.emissivity.as_ref().map(|seen| seen.value),
            spacer: $table.spacer.as_ref().map(|seen| seen.value),
            glass: $table.glass.as_ref().map(|seen| seen.value),
        }
    };
}

pub(super) use make;

/// Boxes and hinges may stand in any sash: those that its kind has no use for are not judged.
pub(super) fn around(table: &SashTable, reader: &mut Reader) -> Around {
    Around {
        old_glass: known(table.old_glass.as_ref()),
        weights: table.weights.as_ref().and_then(|seen| weights(seen, reader)),
        hinges: table.hinges.as_ref().and_then(|seen| hinges(seen)),
        opens: known(table.opens.as_ref()),
        place: table.place.as_ref().map_or_else(Place::default, |seen| place(seen)),
        weather: table.weather.as_ref().map_or_else(Weather::default, |seen| weather(seen)),
    }
}

fn weights(table: &WeightsTable, reader: &mut Reader) -> Option<WeightBox> {
    let (height, travel) = (table.height.as_ref()?, table.travel.as_ref()?);
    if travel.value > height.value + SAME {
        let expected = format!("at most {} mm, the height of the box", show(height.value));
        reader.contradict(&travel.place, expected, "the weight falls as far as the sash rises");
    }
    Some(WeightBox {
        diameter: table.diameter.as_ref()?.value,
        height: height.value,
        travel: travel.value,
        old: known(table.old.as_ref()),
    })
}

fn hinges(table: &HingesTable) -> Option<Hinges> {
    Some(Hinges {
        apart: table.apart.as_ref()?.value,
        count: or(table.count.as_ref(), 2),
        screws: table.screws.as_ref()?.value,
        diameter: table.diameter.as_ref()?.value,
        thread: table.thread.as_ref()?.value,
    })
}

fn place(table: &PlaceTable) -> Place {
    Place {
        country: known(table.country.as_ref()),
        opening: known(table.opening.as_ref()),
        floor: known(table.floor.as_ref()),
        walkway: known(table.walkway.as_ref()),
        drop: known(table.drop.as_ref()),
        built: known(table.built.as_ref()),
        listed: known(table.listed.as_ref()),
    }
}

fn weather(table: &WeatherTable) -> Weather {
    let usual = Weather::default();
    let ([hot, cold], [low, high]) = (usual.gas, usual.barometer);
    let altitude = or(table.altitude.as_ref(), usual.altitude);
    Weather {
        room: Conditions {
            inside: or(table.room.as_ref(), usual.room.inside),
            humidity: or(table.humidity.as_ref(), usual.room.humidity),
            outside: or(table.outdoors.as_ref(), usual.room.outside),
        },
        degree_hours: known(table.degree_hours.as_ref()),
        altitude,
        sealed_altitude: or(table.sealed_altitude.as_ref(), altitude),
        sealed_temperature: or(table.sealed_temperature.as_ref(), usual.sealed_temperature),
        sealed_barometer: or(table.sealed_barometer.as_ref(), usual.sealed_barometer),
        gas: [or(table.gas_hottest.as_ref(), hot), or(table.gas_coldest.as_ref(), cold)],
        barometer: [or(table.barometer_low.as_ref(), low), or(table.barometer_high.as_ref(), high)],
    }
}

pub(super) fn allowances(table: Option<&Seen<AllowancesTable>>) -> Allowances {
    let usual = Allowances::default();
    let Some(table) = table else { return usual };
    Allowances {
        measuring: or(table.measuring.as_ref(), usual.measuring),
        cutting: or(table.cutting.as_ref(), usual.cutting),
        moisture_now: or(table.moisture_now.as_ref(), usual.moisture_now),
        moisture_most: or(table.moisture_most.as_ref(), usual.moisture_most),
        glass_now: or(table.glass_now.as_ref(), usual.glass_now),
        glass_hot: or(table.glass_hot.as_ref(), usual.glass_hot),
    }
}

pub(super) fn candidates(table: Option<&Seen<CandidatesTable>>) -> Candidates {
    let usual = Candidates::default();
    let Some(table) = table else { return usual };
    let units = table.units.iter().flat_map(|seen| seen.iter());
    Candidates {
        usual: or(table.usual.as_ref(), usual.usual),
        units: units.filter_map(|seen| offered(seen)).collect(),
    }
}

fn offered(table: &OfferedTable) -> Option<Offered> {
    Some(Offered {
        build_up: table.build_up.as_ref()?.value.clone(),
        make: make!(table),
        cover: known(table.cover.as_ref()),
        spacer_height: known(table.spacer_height.as_ref()),
        over: known(table.over.as_ref()),
    })
}
