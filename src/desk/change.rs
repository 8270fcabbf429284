//! Changes that a page asks for, on a layout's text.

use serde_json::Value;

use crate::layout::{Edited, Step};

use super::wire::{Change, Clash, Path};

/// Why changes were not made.
#[derive(Debug, PartialEq)]
pub(super) enum NotMade {
    /// A value is no longer what the page showed.
    Clash(Clash),
    /// A change that cannot be made of this file, in words.
    Never(String),
}

/// The text with all changes made, or none.
pub(super) fn changed<'c>(
    text: &str,
    changes: impl IntoIterator<Item = &'c Change>,
) -> Result<String, NotMade> {
    let mut text = text.to_owned();
    for change in changes {
        text = one(text, change)?;
    }
    Ok(text)
}

fn one(text: String, change: &Change) -> Result<String, NotMade> {
    if let Change::Text { to, was } = change {
        return match was {
            Some(was) if *was != text => {
                Err(NotMade::Clash(Clash { path: Vec::new(), now: Some(Value::String(text)) }))
            }
            _ => Ok(to.clone()),
        };
    }
    let mut edited = Edited::of(&text).map_err(NotMade::Never)?;
    match change {
        Change::Set { path, to, was } => {
            as_shown(&edited, path, was.as_ref())?;
            edited.set(path, to).map_err(NotMade::Never)?;
        }
        Change::Remove { path, was } => {
            as_shown(&edited, path, was.as_ref())?;
            edited.remove(path);
        }
        Change::Insert { path, to } => edited.insert(path, to).map_err(NotMade::Never)?,
        Change::Move { path, to } => edited.shift(path, *to).map_err(NotMade::Never)?,
        Change::Text { .. } => {}
    }
    Ok(edited.text())
}

/// Whether a value is what the page showed.
fn as_shown(edited: &Edited, path: &[Step], was: Option<&Option<Value>>) -> Result<(), NotMade> {
    let Some(was) = was else { return Ok(()) };
    let now = edited.get(path);
    let same = match (&now, was) {
        (Some(now), Some(was)) => alike(now, was),
        (now, was) => now == was,
    };
    if same { Ok(()) } else { Err(NotMade::Clash(Clash { path: Path::from(path), now })) }
}

/// Whether two values are the same; 2 and 2.0 are, since a page has only one kind of number.
fn alike(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => a == b || a.as_f64() == b.as_f64(),
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b))
        }
        (Value::Object(a), Value::Object(b)) => {
            a.len() == b.len() && a.iter().all(|(key, a)| b.get(key).is_some_and(|b| alike(a, b)))
        }
        (a, b) => a == b,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::{NotMade, changed};
    use crate::desk::wire::{Change, Clash};

    fn changes(of: serde_json::Value) -> Vec<Change> {
        serde_json::from_value(of).unwrap()
    }

    #[test]
    fn changes_are_made_together_or_not_at_all() {
        let text = "size = 2.0 # twice\n";
        let all = changes(json!([
            { "do": "set", "path": ["size"], "to": 3, "was": 2 },
            { "do": "insert", "path": ["line", 0], "to": { "text": "a" } },
            { "do": "set", "path": ["fit", "mode"], "to": "full", "was": null },
        ]));
        let wanted = "size = 3 # twice\n\n[[line]]\ntext = \"a\"\n\n[fit]\nmode = \"full\"\n";
        assert_eq!(changed(text, &all).unwrap(), wanted);
        let bad = changes(json!([
            { "do": "set", "path": ["size"], "to": 3 },
            { "do": "move", "path": ["line", 0], "to": 1 },
        ]));
        assert!(matches!(changed(text, &bad), Err(NotMade::Never(_))));
    }

    #[test]
    fn a_value_that_somebody_else_changed_is_not_written_over() {
        let change = changes(json!([{ "do": "set", "path": ["a"], "to": "x", "was": "old" }]));
        let clash = |now| NotMade::Clash(Clash { path: change_path(), now });
        assert_eq!(changed("a = \"old\"\n", &change).unwrap(), "a = \"x\"\n");
        assert_eq!(changed("a = \"new\"", &change), Err(clash(Some(json!("new")))));
        assert_eq!(changed("", &change), Err(clash(None)));
        let gone = changes(json!([{ "do": "remove", "path": ["a"], "was": null }]));
        assert_eq!(changed("a = 1", &gone), Err(clash(Some(json!(1)))));
        let text = changes(json!([{ "do": "text", "to": "b = 1", "was": "a = 1" }]));
        assert_eq!(changed("a = 1", &text).unwrap(), "b = 1");
        assert!(matches!(changed("a = 2", &text), Err(NotMade::Clash(_))));
    }

    fn change_path() -> Vec<crate::layout::Step> {
        vec![crate::layout::Step::Key("a".to_owned())]
    }
}
