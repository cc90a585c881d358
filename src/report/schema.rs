//! The shape of a file as JSON Schema (draft 7, which editors of YAML know best).

use crate::scenario::schema::{Field, Shape};
use serde_json::{Map, Value, json};

/// The dialect.
const DIALECT: &str = "http://json-schema.org/draft-07/schema#";

/// The schema of a file.
#[must_use]
pub fn of(shape: &Shape, title: &str, description: &str) -> Value {
    let mut schema = json!({"$schema": DIALECT, "title": title, "description": description});
    if let (Some(all), Value::Object(of)) = (schema.as_object_mut(), value(shape)) {
        all.extend(of);
    }
    schema
}

fn value(shape: &Shape) -> Value {
    match shape {
        Shape::Number { least, most, whole } => {
            json!({"type": if *whole { "integer" } else { "number" }, "minimum": least, "maximum": most})
        }
        Shape::Words(list) => json!({"enum": list}),
        // Editors read `yes` as a word, older ones as true.
        Shape::Flag => json!({"enum": [true, false, "yes", "no", "on", "off", "true", "false"]}),
        Shape::Date => json!({"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}),
        Shape::Text => json!({"type": ["string", "number", "boolean"]}),
        Shape::Either(list) => json!({"anyOf": list.iter().map(value).collect::<Vec<_>>()}),
        Shape::Named { of, least } => {
            json!({"type": "object", "minProperties": least, "additionalProperties": value(of),
                "propertyNames": {"minLength": 1, "maxLength": 40}})
        }
        Shape::Months { days, of } => {
            let pattern = if *days { "^([0-9]{4}-[0-9]{2}(-[0-9]{2})?|because)$" } else { "^[0-9]{4}-[0-9]{2}$" };
            json!({"type": "object", "patternProperties": {pattern: value(of)}, "additionalProperties": false})
        }
        Shape::List { of, count: (least, most) } => {
            json!({"type": "array", "items": value(of), "minItems": least, "maxItems": most})
        }
        Shape::Section(fields) => section(fields),
        Shape::Empty => json!({"type": "null"}),
    }
}

fn section(fields: &[Field]) -> Value {
    let mut properties = Map::new();
    let mut all: Vec<Value> = Vec::new();
    for field in fields {
        for (key, shape) in &field.keys {
            let mut of = value(shape);
            if let Some(object) = of.as_object_mut().filter(|_| !field.meaning.is_empty()) {
                object.insert("description".to_owned(), json!(field.meaning));
            }
            properties.insert(key.clone(), of);
        }
        let keys: Vec<&String> = field.keys.iter().map(|(key, _)| key).collect();
        let asked: Vec<Value> = keys.iter().map(|key| json!({"required": [key]})).collect();
        match (field.required, asked.len()) {
            (true, _) => all.push(json!({"oneOf": asked})),
            // One quantity in two units is said twice.
            (false, 2..) => {
                for (index, one) in keys.iter().enumerate() {
                    all.extend(keys[index + 1..].iter().map(|other| json!({"not": {"required": [one, other]}})));
                }
            }
            _ => {}
        }
    }
    let mut object = json!({"type": "object", "properties": properties, "additionalProperties": false});
    if let Some(map) = object.as_object_mut().filter(|_| !all.is_empty()) {
        map.insert("allOf".to_owned(), json!(all));
    }
    object
}
