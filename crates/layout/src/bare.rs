//! An optional field that a file holds bare, or not at all: for `#[serde(with = "crate::bare")]` beside
//! `default` and `skip_serializing_if = "Option::is_none"`.

use serde::{Deserialize, Deserializer, Serialize, Serializer};

#[allow(clippy::ref_option, reason = "the signature is serde's")]
pub(crate) fn serialize<T: Serialize, S: Serializer>(
    value: &Option<T>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => value.serialize(serializer),
        None => serializer.serialize_none(),
    }
}

pub(crate) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<T>, D::Error> {
    T::deserialize(deserializer).map(Some)
}
