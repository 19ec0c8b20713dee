//! What the joiner wrote down: read from a TOML file, checked for contradictions, and handed on as
//! plain values.
//!
//! Promised: [`read`] never touches the disk and never panics; a survey with a mistake gives every
//! mistake at once, each with line, column, value, expectation and, where it can be guessed, the
//! cure; a [`House`] that was read holds finite numbers only, and every measure of it can be true
//! beside the others. Not promised: that the sash can take the unit, or that the cutter can cut it.
//! Those are judgements, and later rooms make them.
//!
//! # The survey file
//!
//! One TOML file a house. A length is a plain number in millimetres, or text with its unit:
//! `45`, `"45 mm"`, `"4.5 cm"`, `"1 3/4 in"`, `"1-3/4 in"`, `"7/16\""`, `"1 ft 2 in"`. In a list the unit
//! of the last number holds for plain ones before it: `[56, "78 cm"]`. What is more often a slip than not, such
//! as a daylight under 150 mm, is asked about ([`House::doubts`]) unless it names its unit. The spellings
//! `rabbet`, `molding`, `muntins` and `center` are understood. Everything that is not marked as
//! needed may be left out.
//!
//! The sash lies glazing face up. *Left* is left as seen looking down on that face; X runs to the
//! right and Y up from the lower left corner of the sight.
//!
//! ```
//! # let survey = r##"
//! house = "Samphire Cottage"          # needed
//!
//! [workshop]                          # every key below stands at its default
//! cutter  = { diameter = 12, flutes = 2, cutting_length = 38, shank_diameter = 12 }
//! ##        and what holds it, if it shall be judged: holder = { diameter = 40, stick_out = 45 }
//! router  = { base_diameter = 150, guide_bush = 24, guided_by = "bush", plate = 12 } # or "straightedge"
//! ##        and a bearing under the tip, if it shall be judged: bearing = { diameter = 12, height = 5 }
//! printer = { paper = "A4", roll_width = 610, margin = 8, overlap = 15 } # A4, A3, Letter, or "roll"
//! machine = { bed = [1200, 1200], max_feed = 1500, max_plunge = 400, rapid = 3000, spindle = 18000, spindle_slowest = 8000, spindle_wait = 3 }
//! ##        and where rapid moves run, if not by the clamps: clear_height = 30
//!
//! [workshop.cutting]
//! step_depth       = 4                # deepest step of a pass
//! widen_step       = 2.5              # the same of the first two cuts, in old paint
//! side_step        = 0.5              # widest bite sideways, as a share of the cutter
//! score_depth      = 1                # first scoring cut; 0 for none
//! finish_allowance = 0.5              # left on the walls for the last cut; 0 for none
//! chip_load        = 0.1              # for one cutting edge and turn
//! direction        = "against"        # the cutter's rotation, or "with" it
//! tolerance        = 0.05
//! zero_error       = 0.5              # how far off the zero may be set
//!
//! [workshop.allowances]               # what deviates, and what the timber and the glass go through
//! measuring = 1
//! cutting   = 0.5
//! moisture_now  = 12                  # per cent
//! moisture_most = 17
//! glass_now = 20                      # °C
//! glass_hot = 60
//!
//! [workshop.candidates]               # the units to try each sash with
//! usual = true                        # the built-in list: see `glass::CANDIDATES`
//! units = [                           # besides, or with usual = false instead; cover, spacer_height, over
//!     { build_up = "4-6-4", gas = "krypton", share = 0.9, emissivity = 0.03, spacer = "improved", glass = "toughened" },
//! ]
//!
//! [workshop.limits]                   # any limit by its name: see `Limits`
//! front_stop    = 5
//! front_caution = 8
//!
//! [defaults]                          # for sashes that do not say otherwise
//! timber = "scots-pine"               # see `species`; "unknown-softwood" if not said at all
//! timber_class = "c16"                # only if it was graded: see `CLASSES`
//! unit   = { build_up = "4-6-4" }
//!
//! [[sash]]                            # once for each sash; at least one
//! id        = "kitchen-1"             # needed: lower-case letters, digits, hyphens
//! ## like   = "kitchen-0"             # another sash: what is not said is as there; profile = "casement": or as in
//! ##                                  # [profile.casement], which holds what [defaults] may; count = 6: so many alike
//! kind      = "side-hung"             # needed here or in [defaults]: fixed, side-hung, top-hung,
//!                                     ## sliding-upper, sliding-lower
//! hinge_side = "left"                 # or "right", of a side-hung sash
//! thickness = 45                      # needed here or in [defaults]: glazing face to room face
//! timber    = "scots-pine"
//! sight     = { width = 820, height = 930 }   # needed: daylight between stiles and rails; see below
//! overall   = { width = 924, height = 1056 }  # if measured: checked against the rest
//! stiles    = { width = 52 }          # or left = … and right = …
//! rails     = { top = 52, bottom = 74 }       # or width = … for both
//! rebate    = { width = 9, depth = 17 }       # the old rebate; or a groove, in all members:
//! ## groove  = { from_face = 15, width = 5, depth = 8 }
//! moulding  = { shape = "ovolo", width = 12, depth = 20 } # square, chamfer, ovolo, ogee, or traced:
//! ## moulding = { shape = "traced", points = [[0, 20], [8, 17], [12, 0]] }
//! bars_as   = "one-unit"              # behind cut-down bars, or "unit-per-light"
//! unit      = { build_up = "4-6-4", cover = 12, spacer_height = 12, over = 1, tape = 0, internal_bar = 12, order_step = 1, shape = "square" } # or "shaped"
//! clearance = { left = 2, right = 2, top = 2, bottom = 4 }
//! blocks    = { height = 4 }          # setting blocks; as high as the bottom clearance by default
//! finish    = { bed = 2, bead = 10, proud = 0 }
//! wind      = 900                     # Pa; or the weather's site, or else 800 is assumed
//!
//! ## None of these bears on the wood; what is left out is not judged, or reckoned as the plainest.
//! ## In the unit: gas (air, argon, krypton, xenon) and its share, the normal emissivity of the coated
//! ## face, spacer ("metal", "improved"), glass ("annealed", "heat-strengthened", "toughened").
//! old_glass = 3                       # of the old panes
//! hinges    = { count = 2, apart = 650, screws = 3, diameter = 4, thread = 25, cleared = false }
//! ## opens   = 30                      # degrees, of a top-hung sash; and of a sliding one:
//! ## cord_groove = { depth = 12.7, width = 12.7, length = 480, from_face = 16 }  # in the stiles; depth = 0: none
//! ## weights = { diameter = 40, height = 1500, travel = 700, old = 5.5 }   # the box; one old weight, kg
//! place     = { country = "england", opening = "window", floor = 650, drop = 3000, built = 1890, listed = true }
//! ##        opening: window, door, beside-door; country: england, other, us (with walkway = …, and
//! ##        near = [] or those of "door", "guard", "wet", "stairs", "stairs-foot" that are near)
//! weather   = { room = 20, humidity = 0.5, outdoors = 0, degree_hours = 70, altitude = 60, sealed_altitude = 300 }
//! ##        and for the sealed gas: sealed_temperature, sealed_barometer, gas_hottest, gas_coldest,
//! ##        barometer_low, barometer_high; in place of the pressure of the wind, EN 1991-1-4:
//! ##        site = { speed = 25, terrain = "suburb", height = 9, coefficient = 1.6 } (m/s; sea, flat, country,
//! ##        suburb, town; m)
//!
//! ## Bars take thickness, rebate and moulding from the sash unless they have their own.
//! bars = [
//!     { runs = "upright", centre = 268, width = 22 },
//!     { runs = "upright", centre = 552, width = "7/8 in", rebate = { width = 8, depth = 17 } },
//! ]
//! metal = [{ name = "glazing sprig", at = [4, 310], radius = 5, from_face = 0, cleared = true }]
//! ## What holds the sash on the bed: lower left corner, size, height over the glazing face.
//! clamps = [{ name = "toggle clamp", at = [-50, 400], size = [20, 30], height = 25 }]
//! screws = [
//!     { member = "left stile", from = "outer edge", at = 200, length = 35, from_face = 22 },
//!     { member = "top rail", from = "room face", at = 410, length = 18, from_sight = 30, cleared = false },
//! ]
//!
//! [sash.member.bottom]                # where one member differs: left, right, top, bottom
//! width     = 74
//! thickness = 45
//! rebate    = { width = 10, depth = 17 }      # or a groove
//! tenon     = { thickness = 12, from_face = 16, haunch = 15 }   # a bar may have one too, without haunch
//! moulding  = { shape = "square" }
//! # "##;
//! let house = fillister::survey::read(survey, "house.toml")?;
//! assert_eq!(house.sashes[0].bars[1].width, 22.225);
//! # assert_eq!(house.sashes[0].members.bottom.old.width(), 10.0);
//! # Ok::<(), fillister::survey::Diagnostics>(())
//! ```
//!
//! # Daylight that is no rectangle
//!
//! Places are measured from the lower left corner of the smallest upright rectangle around it.
//!
//! ```
//! # let rest = r##"
//! # house = "Samphire Cottage"
//! # [defaults]
//! # kind = "fixed"
//! # thickness = 45
//! # stiles = { width = 52 }
//! # rails = { width = 52 }
//! # rebate = { width = 9, depth = 17 }
//! # unit = { build_up = "4-6-4" }
//! # "##;
//! # let survey = r##"
//! [[sash]]
//! id = "out-of-square"                # widths bottom to top, heights left to right, middles if measured;
//!                                     ## diagonals from lower left and lower right
//! sight = { widths = [820, 822, 824], heights = [930, 928], diagonals = [1241, 1239], tolerance = 1 }
//! bars = [{ runs = "upright", centre = [268, 271], width = 22 }] # leans: at its lower and upper end
//! surface = [[0, 0, 0], [820, 0, 1], [820, 930, 0], [0, 930, 1]]  # X, Y, and how high the face lies there,
//!                                     ## at the bench or by touch at the machine: four corners tell a twist,
//!                                     ## corners and the middles of the sides a cup as well
//!
//! [[sash]]
//! id = "bowed"                        # against a straightedge; negative into the daylight
//! sight = { width = 820, height = 930, bow = { left = 2, right = -1, bottom = 0, top = 0 } }
//!
//! [[sash]]
//! id = "arched"                       # height to the highest point
//! sight = { width = 800, height = 1000, head = { shape = "segmental", rise = 100 } }
//! ## head = { shape = "semicircular" }
//! ## head = { shape = "elliptical", rise = 200 }
//! ## head = { shape = "three-centred", rise = 250, radius = 190 }   # radius of the outer arcs
//! ## head = { shape = "pointed", radius = 800 }                     # or rise = …
//! ## Between two places, on sight edges or on the centre lines of other bars; rise is off a straightedge.
//! bars = [
//!     { runs = "curved", from = [0, 600], to = [800, 600], rise = 100, bulges = "up", width = 40 },
//!     { runs = "slanting", from = [400, 700], to = [300, 994], width = 30 },
//! ]
//! ## Under a pointed head, an upright that divides at the springing line into arcs like those of the head.
//! ## bars = [{ runs = "branching", centre = 400, width = 40 }]
//!
//! [[sash]]
//! id = "raked"
//! sight = { width = 800, head = { shape = "raked", left = 900, right = 640 } }
//!
//! [[sash]]
//! id = "round"
//! sight = { diameter = 600 }
//!
//! [[sash]]
//! id = "free"                         # corners in order; a third value is the bulge of the arc from there
//! sight = { outline = [[0, 0], [400, 0], [400, 690, 0.2], [0, 690]] }
//! ## sight = { traced = "fanlight.dxf" }    # or drawn, in a text DXF beside the survey
//! ## sight = { traced = "fanlight.dxf", layer = "daylight", drawn_in = "mm" }
//! # "##;
//! # let house = fillister::survey::read(&format!("{rest}{survey}"), "house.toml")?;
//! # let sizes: Vec<f64> = house.sashes.iter().map(|sash| sash.sight.height.round()).collect();
//! # assert_eq!(sizes[1..], [930.0, 1000.0, 900.0, 600.0, 730.0]);
//! # Ok::<(), fillister::survey::Diagnostics>(())
//! ```
//!
//! Widths, heights and diagonals are brought together by least squares. Where the ends and diagonals
//! agree but a middle does not agree with them, both its sides are taken to be bowed by half the
//! difference. A measure that disagrees with the others does not stop the reading: it is a finding.
//!
//! A mistake reads like this:
//!
//! ```
//! let survey = r#"
//! house = "Samphire Cottage"
//! [[sash]]
//! id        = "kitchen-1"
//! kind      = "side-hung"
//! thicknes  = 45
//! thickness = 1.75
//! sight     = { width = 820, height = 930 }
//! stiles    = { width = 52 }
//! rails     = { top = 52, bottom = 74 }
//! rebate    = { width = 54, depth = 17 }
//! unit      = { build_up = "4-6-4" }
//! "#;
//! let mistakes = fillister::survey::read(survey, "house.toml").unwrap_err();
//! let report = mistakes.to_string();
//! let mut lines = report.lines();
//! assert!(lines.next().unwrap().starts_with("house.toml:6:1: sash[1].thicknes: found thicknes, expected"));
//! assert_eq!(lines.next(), Some("  6 | thicknes  = 45"));
//! assert_eq!(lines.next(), Some("    | ^^^^^^^^"));
//! assert_eq!(lines.next(), Some("    = did you mean `thickness`?"));
//! # assert_eq!(mistakes.iter().count(), 3);
//! ```

mod file;
mod quick;
mod read;
mod record;
mod resolve;
mod start;
mod tolerance;
pub mod traced;
mod values;

pub use crate::input::{DeclaredKey, Diagnostic, Diagnostics};
pub use quick::Quick;
pub use read::{MOST_BYTES, With, keys, read, read_bytes, read_with, schema};
pub use record::{MOST_RECORD_BYTES, RECORD, read_record};
pub use start::start;
pub use values::*;
