//! Lengths that several tables hold.

use crate::input::measures;

measures! {
    SightSize: length 50.0 10_000.0;
    Thickness: length 10.0 200.0;
    Coordinate: length -10_000.0 10_000.0;
    Away: length 0.0 1000.0;
}
