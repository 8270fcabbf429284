//! The JSON Schema and the reader say the same. Validity is judged by the Python package
//! jsonschema (`tests/outside/schema.py`), in the Python that `ANSATA_PYTHON` names.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use ansata::layout::{
    Diagnostic, Keys, Layout, Shop, Source, Vocabulary, layout_schema, read, read_shop, shop_schema,
};
use ansata::lettering::catalogue;
use ansata::units::Length;
use serde_json::{Value, json};
use toml::{Table, Value as Toml};

use crate::messages::{SAMPLE, SHOP, SMALL, mistakes};
use crate::outside::asked;

/// Changes to the small layout of messages: each makes legal what would contradict
/// something in the other samples.
const FURTHER: [(&str, &str); 42] = [
    (
        "[lettering]",
        "[[photo]]\nfile = \"hill.png\"\nplace = \"auto\"\nlettering = \"round it\"\nwidth = \"as large as the \
         wording allows\"\nkeeps = \"4 mm\"\nshape = \"oval\"\nproportion = \"3:4\"\ngap = \"2 mm\"\nframe = { \
         weight = \"1 mm\", gap = \"1 mm\" }\nfocus = [0.5, 0.4]\nzoom = 1.5\nheads = [0.1, 0.1, 0.9, 0.9]\n\
         process = \"etched\"\nscreen = { kind = \"dots\", pitch = \"0.3 mm\", angle = 30 }\nstep = \"0.02 mm\"\n\
         tone = { stretch = 0.01, local_contrast = 2, midtone = 0.5, sharpen = 1 }\ncredit = \"x\"\nengrave_credit = { \
         cap_height = \"2 mm\" }\npermission = \"y\"\n[lettering]",
    ),
    (
        "[lettering]",
        "[[photo]]\nfile = \"hill.png\"\nplace = { at = [\"30 mm\", \"30 mm\"] }\nwidth = \"20 mm\"\nshape = \
         \"circle\"\ngrey = true\nprocess = \"printed\"\ninset = { thickness = \"1 mm\", gap = \"0.2 mm\" }\n\
         [[photo]]\nfile = \"hill.png\"\nplace = \"right\"\nheight = \"20 mm\"\nshape = \"rounded\"\ncorner = \
         \"3 mm\"\n[lettering]",
    ),
    (
        "[lettering]",
        "[[photo]]\nfile = \"hill.png\"\nplace = \"bottom\"\nwidth = \"20 mm\"\nheight = \"10 mm\"\nshape = \
         \"arch\"\nscreen = { kind = \"scattered dots\", weights = \"Floyd-Steinberg\" }\n[lettering]",
    ),
    (
        "[lettering]",
        "[[photo]]\nfile = \"hill.png\"\nwidth = \"20 mm\"\nscreen = { kind = \"scattered dots\" }\n[lettering]",
    ),
    (
        "[lettering]",
        "[[photo]]\nfile = \"hill.png\"\nwidth = \"20 mm\"\nframe = {}\ntone = {}\ninset = { thickness = \"1 mm\" }\n\
         screen = { kind = \"lines\", \
         pitch = \"1/64 in\" }\n[lettering]",
    ),
    ("[[line]]", "[[line]]\ndivider = \"double rule\"\n[[line]]"),
    ("[[line]]", "[[line]]\ndivider = \"rule\"\nwidth = \"30 mm\"\n[[line]]"),
    ("[[line]]", "[[line]]\nemblem = \"bell\"\nsize = 2\nat_least = \"3 mm\"\n[[line]]"),
    (
        "[[line]]",
        "[[line]]\nemblem = { file = \"ours.svg\", permission = \"x\" }\nheight = \"9 mm\"\n[[line]]",
    ),
    ("[[line]]", "[corners]\nornament = \"bracket\"\nsize = \"9 mm\"\n[[line]]"),
    (
        "[lettering]",
        "[engraving]\nleast_land = \"1 mm\"\ncutter = { tip = \"1 mm\", angle = 40, depth = \"1 mm\" }\n\
         [lettering]",
    ),
    ("\"EB Garamond\"", "{ name = \"EB Garamond\", weight = 500 }"),
    ("\"EB Garamond\"", "\"EB Garamond\"\nlanguage = \"en\"\nothers = [\"Amiri\"]"),
    ("title", "accept = [{ code = \"x\", where = \"line.1\", reason = \"y\" }]\ntitle"),
    ("\"EB Garamond\"", "{ file = \"ours.ttf\" }"),
    (
        "ringers\"",
        "ringers\"\nkeep = [\"ringers\"]\nfeatures = [\"smcp\"]\nlettering = { file = \"ours.ttf\" }",
    ),
    (
        "[lettering]",
        "[mount]\nholes = \"two sides\"\nfixing = { kind = \"pin\", shank = \"1 mm\", head = \"2 mm\", \
         length = \"9 mm\" }\n[lettering]",
    ),
    (
        "[lettering]",
        "[mount]\nholes = { points = [[\"9 mm\", \"9 mm\"]] }\nfixing = { kind = \"wood screw\", \
         gauge = 2, head = \"flat\", length = \"9 mm\" }\n[lettering]",
    ),
    (
        "[lettering]",
        "[mount]\nfixing = { kind = \"tape\", width = \"9 mm\", strips = 1 }\n[lettering]",
    ),
    (
        "[lettering]",
        "[proof]\n[engraving]\n[fit]\n[face]\nsize = \"50 x 50 mm\"\nmaterial = \"teak\"\n\
         thickness = \"9 mm\"\nplace = {}\n[lettering]",
    ),
    ("120 x 80 mm\"", "80 x 80 mm\"\nborder = { inset = \"9 mm\" }"),
    ("\"brass\"", "\"aluminium\"\ncoating = \"paint\""),
    (
        "[plate]",
        "[mount]\nholes = \"two sides\"\nfixing = { kind = \"pin\", shank = \"1 mm\", head = \"2 mm\", \
         length = \"9 mm\" }\n[plate]\nshape = \"ansate\"\nhandles = {}",
    ),
    ("ringers\"", "ring\u{AD}ers\"\nbreaks = \"free\""),
    ("[plate]", "[plate]\nshape = \"arch\"\nrise = \"9 mm\""),
    (
        "size = \"120 x 80 mm\"",
        "shape = \"points\"\npoints = [[\"0 mm\", \"0 mm\"], [\"60 mm\", \"0 mm\"], [\"30 mm\", \"60 mm\"]]",
    ),
    ("ringers\"", "ringers\"\ncap_height = \"5 mm\"\n[fit]"),
    (
        "[lettering]",
        "[mount]\nholes = { along = \"left and right\", count = 3 }\nfixing = { kind = \"pin\", \
         shank = \"1 mm\", head = \"2 mm\", length = \"9 mm\" }\ngive = \"1 mm\"\n[face]\nsize = \
         \"150 x 110 mm\"\nmaterial = \"white oak\"\nthickness = \"19 mm\"\ngrain = \"vertical\"\n\
         [lettering]",
    ),
    (
        "[lettering]",
        "[mount]\nholes = { circle = \"60 mm\", count = 4 }\nslots = \"across the grain\"\nfixing = { \
         kind = \"pin\", shank = \"1 mm\", head = \"2 mm\", length = \"9 mm\" }\n[face]\nsize = \
         \"150 x 110 mm\"\nmaterial = \"white fir\"\nthickness = \"19 mm\"\ngrain = \"vertical\"\ncut = \
         \"quarter sawn\"\nmoisture = [\"7 %\", \"12.5 %\"]\n[lettering]",
    ),
    (
        "[plate]",
        "[mount]\nholes = \"auto\"\ninset = \"9 mm\"\nfixing = { kind = \"pin\", shank = \"1 mm\", head = \
         \"2 mm\", length = \"9 mm\" }\n[plate]",
    ),
    ("[lettering]", "[mount]\nfixing = { kind = \"tape\" }\nholes = \"auto\"\n[lettering]"),
    (
        "[plate]\nsize = \"120 x 80 mm\"",
        "[face]\nsize = \"150 x 110 mm\"\nmaterial = \"teak\"\ntrim = { width = \"3 mm\" }\n[plate]\n\
         size = \"from face\"\nreveal = \"3 mm\"",
    ),
    (
        "[lettering]",
        "[face]\nmaterial = \"stone\"\nplace = { mark = \"centre\" }\nold_holes = [{ at = [\"-3 mm\", \
         \"3 mm\"], diameter = \"3 mm\" }]\n[lettering]",
    ),
    (
        "[lettering]",
        "[face]\nsize = \"150 x 110 mm\"\nmaterial = \"mdf\"\nplace = { mark = [\"3 mm\", \"3 mm\"], \
         mark_at = [\"30 mm\", \"30 mm\"] }\n[lettering]",
    ),
    (
        "[lettering]",
        "[face]\nshape = \"trapezium\"\ntop = \"80 mm\"\nfoot = \"90 mm\"\nheight = \"60 mm\"\nmaterial = \
         \"resin\"\ntrim = { top = \"3 mm\" }\n[lettering]",
    ),
    (
        "[lettering]",
        "[face]\nwidth = \"80 mm\"\nslope = { rise = \"60 mm\", run = \"9 mm\" }\nmaterial = \"metal\"\n\
         recess = { size = \"40 x 40 mm\", depth = \"1 mm\", place = {} }\n[lettering]",
    ),
    (
        "[lettering]",
        "[face]\nshape = \"circle\"\ndiameter = \"80 mm\"\nmaterial = \"plywood\"\nrecess = { diameter = \
         \"40 mm\", depth = \"1 mm\" }\n[lettering]",
    ),
    (
        "[lettering]",
        "[face]\nshape = \"points\"\npoints = [[\"0 mm\", \"0 mm\"], [\"60 mm\", \"0 mm\"], [\"30 mm\", \
         \"60 mm\"]]\nmaterial = \"hollow\"\n[lettering]",
    ),
    ("brass\"", "brass\"\ncoating = \"paint\"\ncolour = \"black\"\n[engraving]\nfrom = \"behind\""),
    ("brass\"", "laminate\"\ncap = \"red\"\ncore = \"white\""),
    ("brass\"", "acrylic\"\ncolour = \"blue\""),
    ("[[line]]\ntext = \"Given by the ringers\"", "[proof]\n[engraving]\n[fit]\n[mount]"),
];

/// Fixings beside those above.
const FIXINGS: [&str; 4] = [
    "kind = \"machine screw\", thread = \"M4\", head = \"pan\", length = \"9 mm\", into = \"nut\"",
    "kind = \"machine screw\", thread = \"M4\", head = \"pan\", length = \"9 mm\", into = \
     \"insert\", insert_bore = \"5 mm\", insert_depth = \"6 mm\"",
    "kind = \"rear stud\", diameter = \"1 mm\", length = \"9 mm\"",
    "kind = \"standoff\", cap = \"60 mm\", hole = \"1 mm\", off = \"9 mm\", gauge = 6, length = \
     \"9 mm\"",
];

fn vocabulary() -> Vocabulary {
    Vocabulary { lettering: catalogue().names().map(str::to_owned).collect() }
}

fn read_text(text: &str) -> Result<Layout, Vec<Diagnostic>> {
    let source = Source { name: "cup.toml".to_owned(), text: text.to_owned() };
    let companion = |path: &str| match path {
        "none.txt" => Err("there is no such file".to_owned()),
        "hill.png" => Ok(crate::messages::hill()),
        // A drawing, and words like any others.
        _ => Ok(b"<svg xmlns='http://www.w3.org/2000/svg'><path d='M0 0H9V9'/></svg>".to_vec()),
    };
    read(&source, Shop::default(), &vocabulary(), &companion)
}

/// Which file a schema is of, and what its reader makes of a text: the value read, in
/// words and without the places of keys, or its mistakes.
struct Kind {
    schema: Value,
    samples: Vec<Table>,
    reads: fn(&str) -> Result<String, Vec<Diagnostic>>,
}

/// Every sample of a layout.
fn samples() -> Vec<String> {
    let mut samples = vec![SAMPLE.to_owned(), SMALL.to_owned()];
    samples.extend(FURTHER.iter().map(|(part, with)| {
        assert!(SMALL.contains(part), "{part}");
        SMALL.replacen(part, with, 1)
    }));
    let fixed = FIXINGS.iter().map(|fixing| {
        let mount = format!("[mount]\nholes = \"two sides\"\nfixing = {{ {fixing} }}\n[lettering]");
        SMALL.replacen("[lettering]", &mount, 1)
    });
    let further = samples.len();
    samples.extend(fixed);
    if let Some(last) = samples.get_mut(further - 1) {
        last.insert_str(0, "wording = \"a.txt\"\n");
    }
    samples
}

fn layouts() -> Kind {
    let samples = samples();
    Kind {
        schema: serde_json::from_str(&layout_schema(&vocabulary())).unwrap(),
        samples: samples.iter().map(|text| text.parse().unwrap()).collect(),
        reads: |text| {
            let layout = read_text(text)?;
            Ok(format!("{:?}", Layout { keys: Keys::default(), ..layout }))
        },
    }
}

fn shops() -> Kind {
    let samples = [SHOP, "ansata_shop = 1\n[least_cap_height]\n"];
    Kind {
        schema: serde_json::from_str(&shop_schema()).unwrap(),
        samples: samples.iter().map(|text| text.parse().unwrap()).collect(),
        reads: |text| {
            let source = Source { name: "shop.toml".to_owned(), text: text.to_owned() };
            read_shop(&source).map(|shop| format!("{shop:?}"))
        },
    }
}

/// A table of a sample: where in the schema it is described, where in the sample it stands.
type Place = (String, Vec<String>);

/// Whether a table has every key that one of several kinds needs.
fn holds(one: &Value, value: &Toml) -> bool {
    let needed = one["required"].as_array().into_iter().flatten();
    needed.filter_map(Value::as_str).all(|key| value.get(key).is_some())
}

/// Every table of a document with its place in the schema.
fn places(
    root: &Value,
    schema: &Value,
    pointer: &str,
    value: &Toml,
    path: &[String],
) -> Vec<Place> {
    if let Some(named) = schema.get("$ref").and_then(Value::as_str) {
        let pointer = named.trim_start_matches('#');
        return places(root, root.pointer(pointer).unwrap(), pointer, value, path);
    }
    for several in ["oneOf", "anyOf"] {
        let Some(kinds) = schema.get(several).and_then(Value::as_array) else { continue };
        if schema.get("properties").is_some() {
            continue;
        }
        let kind = value.get("kind").and_then(Toml::as_str);
        let fits = |one: &Value| match kind {
            Some(kind) => one["properties"]["kind"]["const"] == kind,
            None => (one["type"] == "object") == value.is_table() && holds(one, value),
        };
        let at = kinds.iter().position(fits).expect("one of the kinds");
        return places(root, &kinds[at], &format!("{pointer}/{several}/{at}"), value, path);
    }
    let step = |more: &str| [path, &[more.to_owned()]].concat();
    match value {
        Toml::Table(table) => {
            let mut all = vec![(pointer.to_owned(), path.to_vec())];
            for (key, value) in table {
                let inner = &schema["properties"][key];
                let pointer = format!("{pointer}/properties/{key}");
                all.extend(places(root, inner, &pointer, value, &step(key)));
            }
            all
        }
        Toml::Array(items) => {
            let inner = format!("{pointer}/items");
            let each = items.iter().enumerate().flat_map(|(at, item)| {
                places(root, &schema["items"], &inner, item, &step(&at.to_string()))
            });
            each.collect()
        }
        _ => Vec::new(),
    }
}

/// Pointers of every table that a schema describes.
fn tables(schema: &Value, pointer: &str, found: &mut BTreeSet<String>) {
    // Conditions repeat keys without describing them.
    let conditions = ["allOf", "if", "then", "else", "not"];
    match schema {
        Value::Object(object) => {
            if object.get("type").is_some_and(|kind| kind == "object") {
                found.insert(pointer.to_owned());
            }
            for (key, inner) in object {
                if !conditions.contains(&key.as_str()) {
                    tables(inner, &format!("{pointer}/{key}"), found);
                }
            }
        }
        Value::Array(items) => {
            for (at, item) in items.iter().enumerate() {
                tables(item, &format!("{pointer}/{at}"), found);
            }
        }
        _ => {}
    }
}

fn table_at<'t>(document: &'t mut Table, path: &[String]) -> &'t mut Table {
    let Some((first, rest)) = path.split_first() else { return document };
    let mut at = document.get_mut(first).unwrap();
    for step in rest {
        at = match at {
            Toml::Array(items) => items.get_mut(step.parse::<usize>().unwrap()).unwrap(),
            other => other.get_mut(step).unwrap(),
        };
    }
    at.as_table_mut().unwrap()
}

impl Kind {
    /// For each table of the schema every place where a sample has one.
    fn instances(&self) -> BTreeMap<String, Vec<(usize, Vec<String>)>> {
        let mut all: BTreeMap<String, Vec<_>> = BTreeMap::new();
        for (at, sample) in self.samples.iter().enumerate() {
            let whole = Toml::Table(sample.clone());
            for (pointer, path) in places(&self.schema, &self.schema, "", &whole, &[]) {
                all.entry(pointer).or_default().push((at, path));
            }
        }
        let mut known = BTreeSet::new();
        tables(&self.schema, "", &mut known);
        assert_eq!(all.keys().cloned().collect::<BTreeSet<_>>(), known, "a table has no sample");
        all
    }

    fn sample_with(&self, (at, path): &(usize, Vec<String>), key: &str, value: &Toml) -> String {
        let mut sample = self.samples[*at].clone();
        table_at(&mut sample, path).insert(key.to_owned(), value.clone());
        toml::to_string(&sample).unwrap()
    }

    /// The samples changed in this key that the reader takes.
    fn taken(&self, places: &[(usize, Vec<String>)], key: &str, value: &Toml) -> Vec<String> {
        let texts = places.iter().map(|place| self.sample_with(place, key, value));
        texts.filter(|text| (self.reads)(text).is_ok()).collect()
    }
}

#[test]
fn the_schema_holds_the_keys_of_the_reader_and_no_others() {
    let mut count = 0;
    for kind in [layouts(), shops()] {
        for (pointer, places) in kind.instances() {
            let properties = kind.schema.pointer(&pointer).unwrap()["properties"].clone();
            let ours: BTreeSet<&str> =
                properties.as_object().unwrap().keys().map(String::as_str).collect();
            let one = Toml::Integer(1);
            let text = kind.sample_with(&places[0], "zzzzzzzzzzzzzzzzzzzz", &one);
            let told = (kind.reads)(&text).expect_err("an unknown key");
            let help = told[0].help.clone().unwrap();
            let list =
                help.strip_prefix("the keys here are: ").unwrap_or_else(|| panic!("{told:?}"));
            assert_eq!(list.split(", ").collect::<BTreeSet<_>>(), ours, "{pointer}");
            for key in &ours {
                let text = kind.sample_with(&places[0], &format!("{key}q"), &one);
                let told = (kind.reads)(&text).expect_err("an unknown key");
                let help = format!("did you mean `{key}`?");
                assert!(told.iter().any(|m| m.help.as_ref() == Some(&help)), "{key}: {told:?}");
            }
            count += ours.len();
        }
    }
    println!("{count} keys");
    assert!(count > 90, "only {count} keys");
}

/// For each key of a layout's schema a text that has it, and the way to it.
pub(crate) fn every_key() -> Vec<(String, Vec<String>)> {
    let kind = layouts();
    let mut all = Vec::new();
    for (pointer, places) in kind.instances() {
        let table = kind.schema.pointer(&pointer).unwrap();
        for (key, schema) in table["properties"].as_object().unwrap() {
            let has = |(at, path): &&(usize, Vec<String>)| {
                table_at(&mut kind.samples[*at].clone(), path).contains_key(key)
            };
            let (place, text) = match places.iter().find(has) {
                Some(place) => (place, toml::to_string(&kind.samples[place.0]).unwrap()),
                None => {
                    let examples = schema.get("examples").and_then(Value::as_array);
                    let examples = examples.into_iter().flatten().map(toml_of);
                    let values = probes(schema).0.into_iter().flatten().chain(examples);
                    let tried = values.flat_map(|value| {
                        let texts = places.iter().map(move |place| (place, value.clone()));
                        texts.map(|(place, value)| (place, kind.sample_with(place, key, &value)))
                    });
                    let mut taken = tried.filter(|(_, text)| (kind.reads)(text).is_ok());
                    taken.next().unwrap_or_else(|| panic!("{pointer}/{key} has no sample"))
                }
            };
            all.push((text, [place.1.as_slice(), std::slice::from_ref(key)].concat()));
        }
    }
    all
}

/// As many mm above or below a bound as certainly pass it.
fn beyond(mm: f64, by: f64) -> Toml {
    Toml::String(format!("{} mm", mm + by))
}

/// Values that a key takes by its schema, of which the reader must take one (each, if they
/// are bounds or words), and values that it does not.
fn probes(schema: &Value) -> (Vec<Vec<Toml>>, Vec<Toml>) {
    let text = |text: &str| Toml::String(text.to_owned());
    if let Some(words) = schema.get("enum").and_then(Value::as_array) {
        let words = words.iter().map(|word| word.as_str().unwrap());
        let wrong = words.clone().map(|word| text(&format!("{word}q"))).collect();
        return (words.map(|word| vec![text(word)]).collect(), wrong);
    }
    if let Some(kinds) = schema.get("oneOf").or_else(|| schema.get("anyOf")) {
        return probes(&kinds[0]);
    }
    let reference = schema["$ref"].as_str().unwrap_or_default();
    match (schema["type"].as_str(), reference) {
        (_, "#/$defs/lettering-name") => {
            (vec![vec![text("EB Garamond")]], vec![text("EB Garamont"), Toml::Boolean(true)])
        }
        (_, "#/$defs/length" | "#/$defs/size") => {
            let about = schema["description"].as_str().unwrap();
            let (_, bounds) = about.split_once("It may be ").unwrap();
            let (least, most) = bounds.trim_end_matches('.').split_once(" to ").unwrap();
            let mm = |text: &str| text.trim_end_matches(" mm").parse::<f64>().unwrap();
            let size = reference.ends_with("size");
            let twice = |value: Toml| match value {
                Toml::String(one) if size => text(&format!("{one} x {one}")),
                value => value,
            };
            let some: Vec<Toml> =
                [least, most, "1 mm", "3 mm", "12 mm", "60 mm"].map(text).to_vec();
            let wrong = vec![beyond(mm(least), -0.01), beyond(mm(most), 0.01)];
            (vec![some.into_iter().map(twice).collect()], wrong.into_iter().map(twice).collect())
        }
        (Some("number"), _) => {
            let bound = |key: &str| schema[key].as_f64().unwrap();
            let (least, most) = (bound("minimum"), bound("maximum"));
            let taken = vec![vec![Toml::Float(least)], vec![Toml::Float(most)]];
            (taken, vec![Toml::Float(least - 0.01), Toml::Float(most + 0.01)])
        }
        (Some("integer"), _) if schema.get("const").is_some() => {
            (vec![vec![Toml::Integer(1)]], vec![Toml::Integer(0), Toml::Integer(2)])
        }
        (Some("integer"), _) => {
            let bound = |key: &str| schema[key].as_i64().unwrap();
            let (least, most) = (bound("minimum"), bound("maximum"));
            let taken = [least, most].map(|n| vec![Toml::Integer(n)]).to_vec();
            (taken, vec![Toml::Integer(least - 1), Toml::Integer(most + 1)])
        }
        (Some("boolean"), _) => {
            ([true, false].map(|so| vec![Toml::Boolean(so)]).to_vec(), vec![text("true")])
        }
        (Some("object" | "array"), _) => (Vec::new(), vec![Toml::Boolean(true)]),
        _ if schema.get("const").is_some() => (Vec::new(), vec![text("other")]),
        _ => {
            let some =
                ["Words", "2026-03-14", "90 %", "a.txt", "hill.png", "3:4", "EB Garamond", "en"]
                    .map(text)
                    .to_vec();
            (vec![some], vec![Toml::Boolean(true)])
        }
    }
}

#[test]
fn every_key_of_the_schema_takes_what_the_schema_says_and_the_reader_agrees() {
    let (mut taken_texts, mut refused) = (Vec::new(), 0);
    for kind in [layouts(), shops()] {
        let mut documents = Vec::new();
        for (pointer, places) in kind.instances() {
            let table = kind.schema.pointer(&pointer).unwrap();
            for (key, schema) in table["properties"].as_object().unwrap() {
                let named = schema["$ref"].as_str().map(|at| at.trim_start_matches('#'));
                let whole = named.and_then(|at| kind.schema.pointer(at)).filter(|_| {
                    !["/$defs/length", "/$defs/size"].contains(&named.unwrap_or_default())
                });
                let (right, wrong) = probes(whole.unwrap_or(schema));
                for values in right {
                    let texts: Vec<String> =
                        values.iter().flat_map(|value| kind.taken(&places, key, value)).collect();
                    assert!(!texts.is_empty(), "{pointer}/{key} takes none of {values:?}");
                    documents.extend(texts);
                }
                for value in wrong {
                    let texts = kind.taken(&places, key, &value);
                    assert!(texts.is_empty(), "{pointer}/{key} takes {value}");
                    refused += 1;
                }
                for example in
                    schema.get("examples").and_then(Value::as_array).into_iter().flatten()
                {
                    let texts = kind.taken(&places, key, &toml_of(example));
                    assert!(!texts.is_empty(), "{pointer}/{key} does not take {example}");
                    documents.extend(texts);
                }
            }
        }
        documents.sort();
        documents.dedup();
        if let Some(faults) = faults(&kind.schema, &documents) {
            for (text, faults) in documents.iter().zip(faults) {
                assert!(faults.is_empty(), "{faults:?}\n{text}");
            }
        }
        taken_texts.extend(documents);
    }
    println!("{} files taken by reader and schema, {refused} values refused", taken_texts.len());
    assert!(taken_texts.len() > 200 && refused > 100);
}

fn toml_of(value: &Value) -> Toml {
    match value {
        Value::String(text) => Toml::String(text.clone()),
        Value::Number(number) if number.is_i64() => Toml::Integer(number.as_i64().unwrap()),
        Value::Number(number) => Toml::Float(number.as_f64().unwrap()),
        Value::Array(items) => Toml::Array(items.iter().map(toml_of).collect()),
        Value::Bool(so) => Toml::Boolean(*so),
        Value::Object(keys) => {
            Toml::Table(keys.iter().map(|(key, value)| (key.clone(), toml_of(value))).collect())
        }
        Value::Null => panic!("no key holds nothing"),
    }
}

#[test]
fn what_the_schema_calls_the_default_is_what_holds_without_the_key() {
    let mut count = 0;
    for kind in [layouts(), shops()] {
        for (pointer, places) in kind.instances() {
            let table = kind.schema.pointer(&pointer).unwrap();
            for (key, schema) in table["properties"].as_object().unwrap() {
                let Some(default) = schema.get("default") else { continue };
                let mut alike = 0;
                for place in &places {
                    let mut without = kind.samples[place.0].clone();
                    if table_at(&mut without, &place.1).contains_key(key) {
                        continue;
                    }
                    let text = kind.sample_with(place, key, &toml_of(default));
                    let Ok(with) = (kind.reads)(&text) else { continue };
                    let without = (kind.reads)(&toml::to_string(&without).unwrap()).unwrap();
                    assert_eq!(with, without, "{pointer}/{key}");
                    alike += 1;
                }
                assert!(alike > 0, "{pointer}/{key}: no sample is without it");
                count += 1;
            }
        }
    }
    println!("{count} defaults");
    assert!(count >= 15, "only {count} defaults");
}

#[test]
fn each_list_of_words_is_the_one_that_the_reader_offers() {
    let mut count = 0;
    for kind in [layouts(), shops()] {
        for (pointer, places) in kind.instances() {
            let table = kind.schema.pointer(&pointer).unwrap();
            for (key, schema) in table["properties"].as_object().unwrap() {
                let list = schema.get("enum").or_else(|| schema["oneOf"][0].get("enum"));
                let Some(words) = list.and_then(Value::as_array) else { continue };
                let words: Vec<&str> = words.iter().map(|word| word.as_str().unwrap()).collect();
                let text =
                    kind.sample_with(&places[0], key, &Toml::String("zzzzzzzzzzzz".to_owned()));
                let told = (kind.reads)(&text).expect_err("an unknown word");
                let help = format!("it may be: {}", words.join(", "));
                assert!(told.iter().any(|m| m.help.as_ref() == Some(&help)), "{key}: {told:?}");
                count += 1;
            }
        }
    }
    assert!(count >= 14, "only {count} lists of words");
}

/// A TOML value as JSON; dates as texts, what JSON has no number for as null.
fn json_of(value: &Toml) -> Value {
    match value {
        Toml::String(text) => json!(text),
        Toml::Integer(number) => json!(number),
        Toml::Float(number) => json!(number),
        Toml::Boolean(truth) => json!(truth),
        Toml::Datetime(date) => json!(date.to_string()),
        Toml::Array(items) => items.iter().map(json_of).collect(),
        Toml::Table(table) => {
            table.iter().map(|(key, value)| (key.clone(), json_of(value))).collect()
        }
    }
}

/// What the validator finds wrong in each TOML text; `None`, said loudly, where no Python
/// is named.
fn faults(schema: &Value, texts: &[String]) -> Option<Vec<Vec<Value>>> {
    let documents: Vec<Value> =
        texts.iter().map(|text| json_of(&Toml::Table(text.parse().unwrap()))).collect();
    validated(schema, &documents)
}

fn validated(schema: &Value, documents: &[Value]) -> Option<Vec<Vec<Value>>> {
    let question = json!({ "schema": schema, "documents": documents });
    let mut answer = asked("schema.py", &question)?;
    let faults: Vec<Vec<Value>> = serde_json::from_value(answer["faults"].take()).unwrap();
    assert_eq!(faults.len(), documents.len());
    Some(faults)
}

#[test]
fn a_standard_validator_accepts_every_shipped_layout() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("layouts");
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<_> =
        files.filter(|path| path.extension().is_some_and(|e| e == "toml")).collect();
    files.sort();
    assert!(files.len() >= 5, "{files:?}");
    let texts: Vec<String> =
        files.iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    let Some(faults) = faults(&layouts().schema, &texts) else { return };
    for (file, faults) in files.iter().zip(faults) {
        assert!(faults.is_empty(), "{}: {faults:?}", file.display());
    }
}

/// Mistakes that no schema finds, by what the reader says of them: they lie in what two
/// values are to each other, in other files, or in what a text holds.
const ONLY_THE_READER_FINDS: &[&str] = &[
    "`plate.size` cannot be `4 x 80 mm`",
    "brass is not coated with `anodised`",
    "laminate is not coated with `silver plate`",
    "`plate.corner` cannot be `50 mm`",
    "a circle is as wide as it is high, and this size is not",
    "`plate.corner` cannot be `38 mm`",
    "`plate.rise` cannot be `61 mm`",
    "a half circle over this width is higher than the plate",
    "`plate.handles.width` cannot be `50 mm`",
    "the handles are higher at the root than at the tip: that is no dovetail",
    "points 1 and 4 are one",
    "points 2 and 4 are one",
    "the side from point 3 to 4 meets the side from point 1 to 2",
    "the side from point 3 to 4 meets the side from point 2 to 3",
    "no point stands at 0 mm from the left: the nearest is at 5 mm",
    "the points span 110 mm x 80 mm, and `size` says otherwise",
    "the bevel takes the whole plate",
    "the border line stands over the edge: `inset` runs to its middle",
    "the lettering file `x.ttf` cannot be read",
    "`line.1.text` shows nothing",
    "row 2 of `line.1.text` shows nothing",
    "`at_most` is less than `at_least`",
    "`the bellringers` does not stand in the text",
    "`the ringers` does not stand in the text",
    "only an ansate plate has handles",
    "a plate by points has its holes by points too",
    "the pin's head is no wider than its shank",
    "there is no dome head of M2 in ISO 7380-1",
    "there is no dome head of M3.5 in ISO 7380-1",
    "the hole for the stud is narrower than the stud",
    "the standoff's cap is no wider than its hole",
    "an oval has no straight edge to set holes along",
    "the head of an arch is no straight edge to set holes along",
    "a plate by points has its holes by points too",
    "`face.moisture` does not go from dry to damp",
    "the size is to come from the face, and none is told",
    "the face has a size, and where its mark is on it is not told",
    "`place` contradicts `recess` in [face]",
    "this hole is told to be off the face",
    "quotes differ by language, and none is named",
    "`engraving.least_land` cannot be `0 mm`",
    "the divider is too short for its weight",
    "the inscription has no words",
    "the drawing `none.svg` cannot be read",
    "an oval has no corners",
    "the lines fill the whole ornament",
    "the photograph `none.jpg` cannot be read",
    "the photograph `half.png` cannot be used: the PNG file ends before the picture does",
    "the photograph `sent.txt` cannot be used: this is not a photograph of a kind that is read: JPEG, PNG, TIFF or WebP",
    "`photo.1.width` cannot be `2 mm`",
    "`photo.1.proportion` cannot be `30:1`",
    "round a photograph at a point lettering always stands close",
    "`photo.1.gap` cannot be `300 mm`",
    "the box of the heads is empty",
    "`photo.1.screen.pitch` cannot be `4 mm`",
    "`photo.1.step` cannot be `2 mm`",
    "`photo.1.inset.thickness` cannot be `0 mm`",
    "only one photograph's place or size can be worked out",
];

#[test]
fn a_standard_validator_refuses_every_mistake_of_structure() {
    let schema = layouts().schema;
    let mut told = Vec::new();
    let mut not_toml = 0;
    for mistake in mistakes() {
        let text = SMALL.replacen(&mistake.replace, &mistake.with, 1);
        if text.parse::<Table>().is_ok() {
            told.push((mistake.says, text));
        } else {
            not_toml += 1;
        }
    }
    let texts: Vec<String> = told.iter().map(|(_, text)| text.clone()).collect();
    let Some(faults) = faults(&schema, &texts) else { return };
    let found = |valid: bool| {
        let both = told.iter().zip(&faults);
        both.filter(move |(_, faults)| faults.is_empty() == valid)
            .map(|((says, _), _)| says.as_str())
    };
    let missed: Vec<&str> = found(true).collect();
    println!(
        "{} refused, {} only by the reader, {not_toml} not TOML",
        found(false).count(),
        missed.len()
    );
    assert_eq!(missed, ONLY_THE_READER_FINDS);
}

#[test]
fn every_length_that_is_read_matches_the_pattern_of_the_schema() {
    let parts = [
        "1",
        "12",
        "0",
        "3/4",
        "¾",
        "½",
        " ",
        "-",
        "\u{2013}",
        ",",
        ".",
        "5",
        "25",
        "/",
        "\u{2044}",
        "mm",
        "MM",
        "cm",
        "in",
        "In.",
        "\"",
        "\u{2033}",
        "\u{201D}",
        "''",
        "inches",
        "Inch",
        "millimetres",
        "x",
        "\u{D7}",
        "\u{A0}",
        "\t",
    ];
    let (mut lengths, mut sizes) = (BTreeSet::new(), BTreeSet::new());
    // A fixed walk, so that a text that parts the two is found again (xorshift64).
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut below = |end: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state % end as u64).unwrap()
    };
    for _ in 0..200_000 {
        let text: String = (0..2 + below(7)).map(|_| parts[below(parts.len())]).collect();
        if Length::parse(&text).is_ok_and(|length| length.mm.is_sign_positive()) {
            lengths.insert(text.clone());
        }
        if Length::parse_size(&text)
            .is_ok_and(|(w, h)| w.mm.is_sign_positive() && h.mm.is_sign_positive())
        {
            sizes.insert(text);
        }
    }
    println!("{} lengths, {} sizes", lengths.len(), sizes.len());
    assert!(lengths.len() > 200 && sizes.len() > 10);
    let schema = layouts().schema;
    let no_lengths =
        ["", "12", "mm", "12 m", "12 mmm", "-3 mm", "4 x 3 in", "1/2/3 in", "1.2.3 mm"];
    for (name, right, wrong) in [
        ("length", lengths, &no_lengths[..]),
        ("size", sizes, &["12 mm", "3 x 4", "4 by 3 in"][..]),
    ] {
        let schema = json!({ "$ref": format!("#/$defs/{name}"), "$defs": schema["$defs"] });
        let documents: Vec<Value> = right
            .iter()
            .map(String::as_str)
            .chain(wrong.iter().copied())
            .map(|t| json!(t))
            .collect();
        let Some(faults) = validated(&schema, &documents) else { return };
        for (at, (document, faults)) in documents.iter().zip(faults).enumerate() {
            assert_eq!(faults.is_empty(), at < right.len(), "{name} {document}: {faults:?}");
        }
    }
}
