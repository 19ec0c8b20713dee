//! The tables of what stands round a sash, and of what a unit is made of.

use crate::input::{All, Flag, Whole, choice, measures, table};
use crate::survey::values::{Country, Nearby, Opening, Terrain};

measures! {
    BoxDiameter: length 5.0 300.0;
    Run: length 50.0 10_000.0;
    Apart: length 20.0 5000.0;
    Thickest: length 1.0 20.0;
    GrooveDepth: length 0.0 100.0;
    GrooveAcross: length 1.0 50.0;
    Thread: length 0.0 200.0;
    AboveFloor: length 0.0 10_000.0;
    Below: length 0.0 100_000.0;
    Angle: number 0.0 90.0 "degrees";
    Kilograms: number 0.1 200.0 "kg";
    Celsius: number -60.0 90.0 "°C";
    Room: number -40.0 50.0 "°C";
    Damp: number 0.01 1.0 "";
    DegreeHours: number 1.0 300.0 "thousand K h";
    Altitude: number -400.0 5000.0 "m";
    Barometer: number 850.0 1100.0 "hPa";
    WindSpeed: number 10.0 60.0 "m/s";
    HouseHeight: number 1.0 200.0 "m";
    NetCoefficient: number 0.3 4.0 "";
}

choice! {
    CountryWord: Country {
        "england" => Country::England;
        "us" => Country::UnitedStates;
        "other" => Country::Other;
    }
}

choice! {
    OpeningWord: Opening {
        "window" => Opening::Window;
        "door" => Opening::Door;
        "beside-door" => Opening::BesideDoor;
    }
}

choice! {
    NearbyWord: Nearby {
        "door" => Nearby::Door;
        "guard" => Nearby::Guard;
        "wet" => Nearby::Wet;
        "stairs" => Nearby::Stairs;
        "stairs-foot" => Nearby::StairsFoot;
    }
}

choice! {
    TerrainWord: Terrain {
        "sea" | "0" => Terrain::Sea;
        "flat" | "I" => Terrain::Flat;
        "country" | "II" => Terrain::Country;
        "suburb" | "III" => Terrain::Suburb;
        "town" | "IV" => Terrain::Town;
    }
}

table! {
    /// The box that the weight of a sliding sash runs in.
    WeightsTable {
        /// Thickest round weight that runs freely.
        diameter: BoxDiameter, needed;
        /// From the pulley down to the bottom of the box.
        height: Run, needed;
        /// How far the sash slides.
        travel: Run, needed;
        /// What one old weight weighs on a scale, kg.
        old: Kilograms, otherwise "half the old sash, where `old_glass` is known";
    }
}

table! {
    /// The groove for the cord in the outer edge of either stile, from its top down.
    CordGrooveTable {
        /// From the outer edge into the wood; 0 where there is none.
        depth: GrooveDepth, needed;
        /// Square to the glass.
        width: GrooveAcross, otherwise "as deep as wide";
        /// From the top of the stile down.
        length: AboveFloor, otherwise "to the middle of the stile";
        /// Glazing face to its near side.
        from_face: GrooveDepth, otherwise "in the middle of the thickness";
    }
}

table! {
    /// The hinges of a sash.
    HingesTable {
        /// How many there are.
        count: Whole<2, 12>, otherwise "2";
        /// Between the middles of the outermost two.
        apart: Apart, needed;
        /// Screws that hold each hinge to the sash.
        screws: Whole<1, 12>, needed;
        /// Diameter of a screw.
        diameter: Thickest, needed;
        /// Length of thread in the wood.
        thread: Thread, needed;
        /// Whether they are off the sash while it is cut.
        cleared: Flag, default false;
    }
}

table! {
    /// Where a sash is: what rules may hold for it.
    PlaceTable {
        /// Whose rules hold: "england", "us" or "other".
        country: CountryWord, otherwise "not known: ask the local building authority";
        /// What the sash is part of: "window", "door", or "beside-door" for a panel within 300 mm of a
        /// door.
        opening: OpeningWord, otherwise "not known";
        /// Floor to the lower sight edge.
        floor: AboveFloor, otherwise "not known";
        /// From the glass to the nearest surface one walks on, along the floor.
        walkway: AboveFloor, otherwise "not known";
        /// What is near: a "door" within 610 mm of the glass, a "guard" or railing that the glass is part of,
        /// a "wet" place such as a bath, shower or pool that its wall stands round or faces, "stairs" or a
        /// ramp within 914 mm, "stairs-foot" for the lowest tread within 1524 mm; [] where none of them is.
        near: All<NearbyWord>, otherwise "not known";
        /// From the floor down to the ground outside.
        drop: Below, otherwise "not known";
        /// Year in which the house was built.
        built: Whole<1000, 2200>, otherwise "not known, and so old paint may hold lead";
        /// Whether the house is listed or lies in a conservation area.
        listed: Flag, otherwise "not known";
    }
}

table! {
    /// What a sash and its unit meet indoors and out.
    WeatherTable {
        // A lived-in room on a night of frost. Common practice, no source.
        /// Room, °C.
        room: Room, default 20;
        /// Relative humidity of the room, as a share.
        humidity: Damp, default 0.5;
        /// Outdoors on a night that the glass should stay dry in, °C.
        outdoors: Room, default 0;
        /// Degree hours of a year, in thousands of kelvin hours: what the heating makes good.
        degree_hours: DegreeHours, otherwise "not known, and no heat of a year is told";
        // The steps of German practice for insulating glass (TRLV 08/2006, table 1, published): 20 K warmer and 2 kPa
        // less, 25 K colder and 4 kPa more than when it was sealed at 20 °C under standard pressure.
        /// Height of the house above the sea, m.
        altitude: Altitude, otherwise "not known: taken as up to 600 m above where the unit is sealed, or 300 m below";
        /// Height above the sea where the unit is sealed, m.
        sealed_altitude: Altitude, otherwise "not known: taken as up to 600 m below the house, or 300 m above it";
        /// Gas in the cavity when it is sealed, °C.
        sealed_temperature: Room, default 20;
        /// Barometer when it is sealed, reduced to sea level, hPa.
        sealed_barometer: Barometer, default 1013.25;
        /// Gas in the cavity at its hottest, °C.
        gas_hottest: Celsius, default 40;
        /// Gas in the cavity at its coldest, °C.
        gas_coldest: Celsius, default -5;
        /// Barometer on the hot day, hPa.
        barometer_low: Barometer, default 993.25;
        /// Barometer on the cold day, hPa.
        barometer_high: Barometer, default 1053.25;
        /// Where the house stands in the wind, by EN 1991-1-4, in place of a pressure `wind`.
        site: SiteTable, otherwise "the pressure `wind`";
    }
}

table! {
    /// Where a house stands in the wind, EN 1991-1-4.
    SiteTable {
        /// Basic wind speed of the place, m/s, from the map of the national annex.
        speed: WindSpeed, needed;
        /// What stands around, categories 0 to IV: "sea", "flat", "country", "suburb" or "town".
        terrain: TerrainWord, needed;
        /// Height of the house over the ground, m.
        height: HouseHeight, needed;
        /// Net pressure coefficient, outer less inner: 1.6 near the corner of a house, 1.3 elsewhere.
        coefficient: NetCoefficient, otherwise "1.6, near the corner of a house";
    }
}
