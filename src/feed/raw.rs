//! The shape of the table files as they are written, before they are judged.

use crate::diagnostic::Diagnostic;
use crate::source::Origin;
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor, value::MapAccessDeserializer};
use std::fmt;
use std::marker::PhantomData;

/// Reads one YAML text into a shape.
pub(super) fn from_yaml<T: for<'de> Deserialize<'de>>(file: &str, text: &str) -> Result<T, Vec<Diagnostic>> {
    serde_yaml::from_str(text).map_err(|error| {
        vec![
            Diagnostic::error("F001", format!("{file} cannot be read: {error}"))
                .help("keep the shape of the entries around it; every key is checked"),
        ]
    })
}

/// A mapping as the list of its entries, so that a key given twice can be reported.
#[derive(Debug, Clone)]
pub(super) struct Pairs<T>(pub(super) Vec<(String, T)>);

impl<T> Default for Pairs<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Pairs<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Entries<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
            type Value = Pairs<T>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("names, each with its entry")
            }
            fn visit_map<M: MapAccess<'de>>(self, mut map: M) -> Result<Self::Value, M::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Pairs(entries))
            }
        }
        deserializer.deserialize_map(Entries(PhantomData))
    }
}

/// Where figures come from unless they say otherwise.
#[derive(Debug, Clone, Default, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawDefault {
    pub(super) origin: Option<Origin>,
    pub(super) source: Option<String>,
    pub(super) place: Option<String>,
    pub(super) sd_origin: Option<Origin>,
}

/// A figure another source prints: `value`, or `from` and `to`.
#[derive(Debug, Clone, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawOther {
    pub(super) value: Option<f64>,
    pub(super) from: Option<f64>,
    pub(super) to: Option<f64>,
    pub(super) origin: Origin,
    pub(super) source: Option<String>,
    pub(super) place: Option<String>,
}

/// A figure: a plain number, or a mapping with `mean` and what else is known of it.
#[derive(Debug, Clone, Default)]
pub(super) struct RawFigure(pub(super) RawFull);

#[derive(Debug, Clone, Default, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFull {
    pub(super) mean: f64,
    pub(super) sd: Option<f64>,
    pub(super) sd_origin: Option<Origin>,
    pub(super) origin: Option<Origin>,
    pub(super) source: Option<String>,
    pub(super) place: Option<String>,
    pub(super) low: Option<RawOther>,
    #[serde(default)]
    pub(super) also: Vec<RawOther>,
}

impl<'de> Deserialize<'de> for RawFigure {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct NumberOrMap;
        impl<'de> Visitor<'de> for NumberOrMap {
            type Value = RawFigure;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number, or a mapping with `mean`")
            }
            fn visit_f64<E: serde::de::Error>(self, mean: f64) -> Result<RawFigure, E> {
                Ok(RawFigure(RawFull { mean, ..RawFull::default() }))
            }
            fn visit_u64<E: serde::de::Error>(self, mean: u64) -> Result<RawFigure, E> {
                self.visit_f64(mean as f64)
            }
            fn visit_i64<E: serde::de::Error>(self, mean: i64) -> Result<RawFigure, E> {
                self.visit_f64(mean as f64)
            }
            fn visit_map<M: MapAccess<'de>>(self, map: M) -> Result<RawFigure, M::Error> {
                serde::Deserialize::deserialize(MapAccessDeserializer::new(map)).map(RawFigure)
            }
        }
        deserializer.deserialize_any(NumberOrMap)
    }
}

/// One feed of a table file.
#[derive(Debug, Clone, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFeed {
    pub(super) name: String,
    pub(super) class: String,
    pub(super) like: Option<String>,
    #[serde(default)]
    pub(super) default: RawDefault,
    pub(super) note: Option<String>,
    #[serde(default)]
    pub(super) no_cotton: bool,
    #[serde(default)]
    pub(super) values: Pairs<RawFigure>,
    pub(super) bulk_lb_per_ft3: Option<RawFigure>,
    pub(super) lb_per_bushel: Option<RawFigure>,
}

/// One caution of `feeds/cautions.yaml`.
#[derive(Debug, Clone, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCaution {
    #[serde(default)]
    pub(super) classes: Vec<String>,
    #[serde(default)]
    pub(super) feeds: Vec<String>,
    pub(super) gravity: super::Gravity,
    pub(super) short: Option<String>,
    #[serde(default)]
    pub(super) who: Vec<super::Who>,
    pub(super) text: String,
    pub(super) figure: Option<String>,
    pub(super) origin: Origin,
    pub(super) source: Option<String>,
    pub(super) place: Option<String>,
}

/// `feeds/losses.yaml`.
#[derive(Debug, Clone, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLosses {
    pub(super) storage: Pairs<RawLoss>,
    pub(super) feeders: Pairs<RawLoss>,
    pub(super) defaults: Pairs<RawClassDefault>,
}

/// One way of storing or feeding.
#[derive(Debug, Clone, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLoss {
    pub(super) words: String,
    pub(super) pct: f64,
    pub(super) months: Option<f64>,
    pub(super) origin: Origin,
    pub(super) source: Option<String>,
    pub(super) place: Option<String>,
    #[serde(default)]
    pub(super) also: Vec<RawOther>,
}

/// What is assumed of a class where the user does not say.
#[derive(Debug, Clone, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawClassDefault {
    pub(super) storage: String,
    pub(super) feeder: String,
    pub(super) because: String,
}
