//! Maps from names, kept in the order written, duplicates and all, so that a
//! duplicate can be found and told.

use std::fmt;
use std::marker::PhantomData;

use serde::de::value::MapAccessDeserializer;
use serde::de::{Deserialize, Deserializer, Error, MapAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};

/// A map such as `{"sink": 5, "whisk": 8}`.
#[derive(Debug, Clone, PartialEq)]
pub struct Entries<T>(pub Vec<(String, T)>);

impl<T> Default for Entries<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T: Serialize> Serialize for Entries<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (key, value) in &self.0 {
            map.serialize_entry(key, value)?;
        }
        map.end()
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Entries<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct EntriesVisitor<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for EntriesVisitor<T> {
            type Value = Entries<T>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a map such as {\"sink\": 5}")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Entries(entries))
            }
        }
        deserializer.deserialize_map(EntriesVisitor(PhantomData))
    }
}

/// How many of some kit there are: `8`, or `(count: 8, out_of_order: 1)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KitCount {
    /// How many there are.
    pub count: i64,
    /// How many more are borrowed, for this lesson only.
    pub borrowed: i64,
    /// How many of all these do not work.
    pub out_of_order: i64,
    /// Whether food touches it; where not said, `understand` decides by the name.
    pub touches_food: Option<bool>,
}

impl KitCount {
    /// So many of the place's own, that work.
    pub const fn of(count: i64) -> Self {
        Self { count, borrowed: 0, out_of_order: 0, touches_food: None }
    }
}

#[derive(serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct KitCountInFull {
    count: i64,
    #[serde(default, skip_serializing_if = "super::is_default")]
    borrowed: i64,
    #[serde(default, skip_serializing_if = "super::is_default")]
    out_of_order: i64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    touches_food: Option<bool>,
}

impl Serialize for KitCount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let KitCount { count, borrowed, out_of_order, touches_food } = *self;
        if *self == KitCount::of(count) {
            return serializer.serialize_i64(count);
        }
        KitCountInFull { count, borrowed, out_of_order, touches_food }.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for KitCount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct KitCountVisitor;
        impl<'de> Visitor<'de> for KitCountVisitor {
            type Value = KitCount;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number, or (count: 8, out_of_order: 1)")
            }
            fn visit_i64<E: Error>(self, count: i64) -> Result<KitCount, E> {
                Ok(KitCount::of(count))
            }
            fn visit_u64<E: Error>(self, count: u64) -> Result<KitCount, E> {
                self.visit_i64(i64::try_from(count).unwrap_or(i64::MAX))
            }
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<KitCount, A::Error> {
                let full = KitCountInFull::deserialize(MapAccessDeserializer::new(map))?;
                Ok(KitCount {
                    count: full.count,
                    borrowed: full.borrowed,
                    out_of_order: full.out_of_order,
                    touches_food: full.touches_food,
                })
            }
        }
        deserializer.deserialize_any(KitCountVisitor)
    }
}
