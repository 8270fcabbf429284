//! The page's types, made of those of the server and of the layout file's schema.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Map, Value};

use super::wire;
use crate::files::load::vocabulary;
use crate::layout::layout_schema;

const PATH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/desk/page/types.d.ts");

const HEAD: &str = "\
// Made of src/desk/wire.rs and of the layout file's schema; a test fails where it differs.
// To make it anew: ANSATA_WRITE_TYPES=1 cargo test --release --lib types_of_the_page

/** Any value of the layout file. */
export type Value = null | boolean | number | string | Value[] | { [key: string]: Value };

/** The way to a value. */
export type Path = Step[];

";

/// Names of types with their schemas.
type Types = BTreeMap<String, Value>;

fn add<T: JsonSchema>(generator: &mut SchemaGenerator) {
    let _ = generator.subschema_for::<T>();
}

fn definitions(mut generator: SchemaGenerator) -> Types {
    generator.take_definitions(true).into_iter().collect()
}

fn all() -> Types {
    let mut said = SchemaSettings::draft2020_12().for_serialize().into_generator();
    add::<wire::Answer>(&mut said);
    add::<wire::Cures>(&mut said);
    add::<wire::Files>(&mut said);
    add::<wire::Choice>(&mut said);
    add::<wire::Folder>(&mut said);
    add::<wire::Stored>(&mut said);
    add::<wire::Refused>(&mut said);
    let mut heard = SchemaSettings::draft2020_12().for_deserialize().into_generator();
    add::<wire::Asked>(&mut heard);
    add::<wire::NewLayout>(&mut heard);
    add::<wire::Signing>(&mut heard);
    add::<wire::Named>(&mut heard);
    let mut types = definitions(said);
    types.extend(definitions(heard));
    let mut layout: Value = serde_json::from_str(&layout_schema(&vocabulary())).unwrap();
    let parts = layout.as_object_mut().unwrap().remove("$defs").unwrap();
    for (name, schema) in parts.as_object().unwrap() {
        types.insert(named(name), schema.clone());
    }
    types.insert("Layout".to_owned(), layout);
    types
}

/// `lettering-name` as a type's name.
fn named(name: &str) -> String {
    let part = |part: &str| part[..1].to_uppercase() + &part[1..];
    name.split('-').map(part).collect()
}

fn written(types: &Types) -> String {
    let mut out = HEAD.to_owned();
    for (name, schema) in types {
        out.push_str(&told(schema, 0));
        let _ = match schema["type"].as_str() {
            Some("object") => writeln!(out, "export interface {name} {}\n", ts(schema, 0)),
            _ => writeln!(out, "export type {name} = {};\n", ts(schema, 0)),
        };
    }
    format!("{}\n", out.trim_end())
}

/// What is said of a type, as a remark.
fn told(schema: &Value, depth: usize) -> String {
    let about = schema["description"].as_str().unwrap_or_default().replace('\n', " ");
    let indent = "  ".repeat(depth);
    if about.is_empty() { String::new() } else { format!("{indent}/** {about} */\n") }
}

/// A schema as TypeScript has it.
fn ts(schema: &Value, depth: usize) -> String {
    if let Some(reference) = schema["$ref"].as_str() {
        return named(reference.rsplit('/').next().unwrap());
    }
    if let Some(constant) = schema.get("const") {
        return constant.to_string();
    }
    let union = |all: &[Value]| {
        let all: Vec<String> = all.iter().map(|one| ts(one, depth)).collect();
        all.join(" | ")
    };
    for any in ["oneOf", "anyOf"] {
        if let Some(all) = schema[any].as_array().filter(|_| schema.get("properties").is_none()) {
            return union(all);
        }
    }
    if let Some(words) = schema["enum"].as_array() {
        return words.iter().map(Value::to_string).collect::<Vec<_>>().join(" | ");
    }
    match &schema["type"] {
        Value::Array(kinds) => {
            let one = |kind: &Value| {
                let mut one = schema.clone();
                one["type"] = kind.clone();
                ts(&one, depth)
            };
            kinds.iter().map(one).collect::<Vec<_>>().join(" | ")
        }
        Value::String(kind) => match kind.as_str() {
            "object" => object(schema, depth),
            "array" => list(schema, depth),
            "integer" | "number" => "number".to_owned(),
            other => other.to_owned(),
        },
        _ => "unknown".to_owned(),
    }
}

fn list(schema: &Value, depth: usize) -> String {
    if let Some(all) = schema["prefixItems"].as_array() {
        let all: Vec<String> = all.iter().map(|one| ts(one, depth)).collect();
        return format!("[{}]", all.join(", "));
    }
    let item = ts(&schema["items"], depth);
    match (schema["minItems"].as_u64(), schema["maxItems"].as_u64()) {
        (Some(least), Some(most)) if least == most && most <= 4 => {
            let all = vec![item; usize::try_from(most).unwrap()];
            format!("[{}]", all.join(", "))
        }
        _ if item.contains([' ', '{']) => format!("({item})[]"),
        _ => format!("{item}[]"),
    }
}

fn object(schema: &Value, depth: usize) -> String {
    let empty = Map::new();
    let keys = schema["properties"].as_object().unwrap_or(&empty);
    let needed = |key: &str| {
        schema["required"].as_array().is_some_and(|all| all.iter().any(|needed| needed == key))
    };
    let mut out = "{\n".to_owned();
    for (key, value) in keys {
        out.push_str(&told(value, depth + 1));
        let indent = "  ".repeat(depth + 1);
        let mark = if needed(key) { "" } else { "?" };
        let _ = writeln!(out, "{indent}{key}{mark}: {};", ts(value, depth + 1));
    }
    format!("{out}{}}}", "  ".repeat(depth))
}

#[test]
fn the_types_of_the_page_are_those_of_the_server() {
    let made = written(&all());
    if std::env::var_os("ANSATA_WRITE_TYPES").is_some() {
        std::fs::write(PATH, &made).unwrap();
    }
    let there = std::fs::read_to_string(PATH).unwrap_or_default();
    let first = made.lines().zip(there.lines()).find(|(made, there)| made != there);
    assert!(made == there, "src/desk/page/types.d.ts is not what wire.rs says: {first:?}");
}
