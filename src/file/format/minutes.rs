//! Minutes as a teacher may write them.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, SeqAccess, Visitor};
use serde::ser::{Serialize, SerializeSeq, SerializeTuple, Serializer};

/// `5` (usual), `(4, 5, 8)` (quick, usual, slow), or a list of three such
/// triples for ages 11 to 12, 12 to 14, 14 to 16.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StatedMinutes {
    /// Usual minutes only.
    Usual(f64),
    /// Quick, usual, slow.
    Three(f64, f64, f64),
    /// Quick, usual, slow for each pace band.
    ByBand([(f64, f64, f64); 3]),
}

impl Serialize for StatedMinutes {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            StatedMinutes::Usual(usual) => Number(*usual).serialize(serializer),
            StatedMinutes::Three(quick, usual, slow) => {
                Triple(*quick, *usual, *slow).serialize(serializer)
            }
            StatedMinutes::ByBand(bands) => {
                let mut list = serializer.serialize_seq(Some(3))?;
                for (quick, usual, slow) in bands {
                    list.serialize_element(&Triple(*quick, *usual, *slow))?;
                }
                list.end()
            }
        }
    }
}

/// Writes 5.0 as `5`, as a person would.
struct Number(f64);

impl Serialize for Number {
    #[allow(clippy::cast_possible_truncation)] // only for small whole numbers
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0.fract() == 0.0 && self.0.abs() < 1e9 {
            serializer.serialize_i64(self.0 as i64)
        } else {
            serializer.serialize_f64(self.0)
        }
    }
}

struct Triple(f64, f64, f64);

impl Serialize for Triple {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut tuple = serializer.serialize_tuple(3)?;
        for part in [self.0, self.1, self.2] {
            tuple.serialize_element(&Number(part))?;
        }
        tuple.end()
    }
}

/// An entry where minutes are read: a number or a triple.
enum MinutesPart {
    Number(f64),
    Triple(f64, f64, f64),
}

impl<'de> Deserialize<'de> for MinutesPart {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match StatedMinutes::deserialize(deserializer)? {
            StatedMinutes::Usual(n) => Ok(MinutesPart::Number(n)),
            StatedMinutes::Three(q, u, s) => Ok(MinutesPart::Triple(q, u, s)),
            StatedMinutes::ByBand(_) => Err(D::Error::custom(EXPECTED)),
        }
    }
}

const EXPECTED: &str = "minutes: 5, or (quick, usual, slow), or a list of three such triples";

impl<'de> Deserialize<'de> for StatedMinutes {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct MinutesVisitor;
        impl<'de> Visitor<'de> for MinutesVisitor {
            type Value = StatedMinutes;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(EXPECTED)
            }
            fn visit_f64<E: Error>(self, value: f64) -> Result<StatedMinutes, E> {
                Ok(StatedMinutes::Usual(value))
            }
            #[allow(clippy::cast_precision_loss)] // such minutes are refused later
            fn visit_i64<E: Error>(self, value: i64) -> Result<StatedMinutes, E> {
                Ok(StatedMinutes::Usual(value as f64))
            }
            #[allow(clippy::cast_precision_loss)] // likewise
            fn visit_u64<E: Error>(self, value: u64) -> Result<StatedMinutes, E> {
                Ok(StatedMinutes::Usual(value as f64))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<StatedMinutes, A::Error> {
                let mut parts = Vec::new();
                while parts.len() < 4 {
                    match seq.next_element::<MinutesPart>()? {
                        Some(part) => parts.push(part),
                        None => break,
                    }
                }
                match parts[..] {
                    [MinutesPart::Number(q), MinutesPart::Number(u), MinutesPart::Number(s)] => {
                        Ok(StatedMinutes::Three(q, u, s))
                    }
                    [
                        MinutesPart::Triple(a, b, c),
                        MinutesPart::Triple(d, e, f),
                        MinutesPart::Triple(g, h, i),
                    ] => Ok(StatedMinutes::ByBand([(a, b, c), (d, e, f), (g, h, i)])),
                    _ => Err(A::Error::custom(EXPECTED)),
                }
            }
        }
        deserializer.deserialize_any(MinutesVisitor)
    }
}
