//! What is said of a key when help is asked for: the schema's own words.

use serde_json::Value;

use crate::files::load::vocabulary;
use crate::layout::layout_schema;

/// Description of a key by its dotted path, and the words that it may be, if it is one of
/// a list; empty for a key that is not in the schema.
pub(super) fn told(path: &str) -> String {
    let schema: Value = serde_json::from_str(&layout_schema(&vocabulary())).unwrap_or_default();
    let mut at = &schema;
    for key in path.split('.') {
        at = at.get("properties").and_then(|keys| keys.get(key)).unwrap_or(&Value::Null);
    }
    let about = at.get("description").and_then(Value::as_str).unwrap_or_default();
    let words = words(at);
    if words.is_empty() { about.to_owned() } else { format!("{about}\n{}", words.join(", ")) }
}

/// The words of a list; where a key may also be something else, those alone.
fn words(schema: &Value) -> Vec<&str> {
    let one_of = schema.get("oneOf").and_then(Value::as_array);
    let kinds = one_of.map_or_else(|| vec![schema], |kinds| kinds.iter().collect());
    let lists = kinds.iter().filter_map(|kind| kind.get("enum").and_then(Value::as_array));
    lists.flatten().filter_map(Value::as_str).collect()
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn a_key_is_told_in_the_words_of_the_schema() {
        assert!(told("plate.material").contains("\nbrass, bronze, copper"));
        assert!(told("mount.holes").contains("\nnone, four corners"));
        assert!(told("face.thickness").contains("It may be 1 mm to 500 mm."));
        assert_eq!(told("plate.weight"), "");
    }
}
