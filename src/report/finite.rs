//! The gate before the report: a number that is not finite has no form in JSON, where it would read `null`, as
//! if it had not been asked.

use serde::Serialize;
use serde::ser::{self, Serializer};
use std::fmt;

/// A number of the report that is not finite.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotANumber {
    /// The keys that lead to it, from the outside in.
    pub at: String,
}

impl fmt::Display for NotANumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "no number was found for {}", self.at)
    }
}

impl std::error::Error for NotANumber {}

impl ser::Error for NotANumber {
    fn custom<T: fmt::Display>(why: T) -> Self {
        NotANumber { at: why.to_string() }
    }
}

/// Passes values whose every number is finite.
///
/// # Errors
/// The first number that is not.
pub fn all_finite(value: &impl Serialize) -> Passed {
    value.serialize(&mut Walk::default())
}

/// A value as JSON.
///
/// # Errors
/// As [`all_finite`].
pub fn json(value: &impl Serialize) -> Result<String, NotANumber> {
    all_finite(value)?;
    serde_json::to_string_pretty(value).map_err(ser::Error::custom)
}

type Passed = Result<(), NotANumber>;

/// The keys on the way to where it is.
#[derive(Default)]
struct Walk(Vec<&'static str>);

impl Walk {
    fn below(&mut self, key: &'static str, value: &(impl Serialize + ?Sized)) -> Passed {
        self.0.push(key);
        value.serialize(&mut *self)?;
        self.0.pop();
        Ok(())
    }
}

/// What holds no fraction is passed; of what is made of several values each is walked to.
macro_rules! serializer {
    (passed { $($name:ident($($of:ty),*))* } walked { $($many:ident: $kind:ident($($how:ty),*))* }) => {
        impl Serializer for &mut Walk {
            type Ok = ();
            type Error = NotANumber;
            $(type $kind = Self;
            fn $many(self $(, _: $how)*) -> Result<Self, NotANumber> {
                Ok(self)
            })*
            $(fn $name(self $(, _: $of)*) -> Passed {
                Ok(())
            })*

            fn serialize_f32(self, value: f32) -> Passed {
                self.serialize_f64(value.into())
            }

            fn serialize_f64(self, value: f64) -> Passed {
                if value.is_finite() { Ok(()) } else { Err(NotANumber { at: self.0.join(".") }) }
            }

            fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Passed {
                value.serialize(self)
            }

            fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Passed {
                value.serialize(self)
            }

            fn serialize_newtype_variant<T: Serialize + ?Sized>(
                self,
                _: &'static str,
                _: u32,
                key: &'static str,
                value: &T,
            ) -> Passed {
                self.below(key, value)
            }
        }
    };
}

serializer! {
    passed {
        serialize_bool(bool) serialize_char(char) serialize_str(&str) serialize_bytes(&[u8])
        serialize_i8(i8) serialize_i16(i16) serialize_i32(i32) serialize_i64(i64)
        serialize_u8(u8) serialize_u16(u16) serialize_u32(u32) serialize_u64(u64)
        serialize_none() serialize_unit() serialize_unit_struct(&'static str)
        serialize_unit_variant(&'static str, u32, &'static str)
    }
    walked {
        serialize_seq: SerializeSeq(Option<usize>) serialize_tuple: SerializeTuple(usize)
        serialize_tuple_struct: SerializeTupleStruct(&'static str, usize)
        serialize_tuple_variant: SerializeTupleVariant(&'static str, u32, &'static str, usize)
        serialize_map: SerializeMap(Option<usize>) serialize_struct: SerializeStruct(&'static str, usize)
        serialize_struct_variant: SerializeStructVariant(&'static str, u32, &'static str, usize)
    }
}

/// The parts of a value: each is walked to, under its key where it has one.
macro_rules! below {
    ($walk:ident $value:ident) => {
        $value.serialize(&mut **$walk)
    };
    ($walk:ident $value:ident $key:ident) => {
        $walk.below($key, $value)
    };
}

macro_rules! each {
    ($($kind:ident $name:ident $($key:ident)?),*) => {
        $(impl ser::$kind for &mut Walk {
            type Ok = ();
            type Error = NotANumber;

            fn $name<T: Serialize + ?Sized>(&mut self, $($key: &'static str,)? value: &T) -> Passed {
                below!(self value $($key)?)
            }

            fn end(self) -> Passed {
                Ok(())
            }
        })*
    };
}

each! {
    SerializeSeq serialize_element, SerializeTuple serialize_element, SerializeTupleStruct serialize_field,
    SerializeTupleVariant serialize_field, SerializeStruct serialize_field key,
    SerializeStructVariant serialize_field key
}

impl ser::SerializeMap for &mut Walk {
    type Ok = ();
    type Error = NotANumber;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, _: &T) -> Passed {
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Passed {
        value.serialize(&mut **self)
    }

    fn end(self) -> Passed {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    #[derive(Serialize)]
    enum Made {
        Bare(f64),
        Known { at: Option<f64> },
        Pair(f64, f64),
        None,
    }

    #[derive(Serialize)]
    struct Window {
        name: &'static str,
        made: Vec<Made>,
        by_key: BTreeMap<&'static str, (f32, f64)>,
    }

    fn window(values: [f64; 6]) -> Window {
        let [a, b, c, d, e, f] = values;
        #[allow(clippy::cast_possible_truncation, reason = "a small number")]
        let by_key = BTreeMap::from([("k", (e as f32, f))]);
        let made = vec![Made::None, Made::Bare(a), Made::Known { at: Some(b) }, Made::Pair(c, d)];
        Window { name: "null", made, by_key }
    }

    // Wherever a number stands, JSON would write `null` for it; the gate names the keys to it.
    #[test]
    fn a_number_that_is_none_is_found_wherever_it_stands() {
        assert_eq!(all_finite(&window([0.0, -1.0, 1e300, 1.0, 2.0, 3.0])), Ok(()));
        let keys = ["made.Bare", "made.at", "made", "made", "by_key", "by_key"];
        for (index, at) in keys.into_iter().enumerate() {
            for wrong in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let mut values = [1.0; 6];
                values[index] = wrong;
                assert_eq!(all_finite(&window(values)), Err(NotANumber { at: at.into() }));
                assert!(json(&window(values)).is_err());
                let written = serde_json::to_string(&window(values)).unwrap();
                assert_eq!(written.replace("\"null\"", "").matches("null").count(), 1, "{written}");
            }
        }
    }
}
