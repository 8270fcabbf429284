//! Twenty texts of each shipped script, shaped as HarfBuzz shapes them, glyph by glyph:
//! `tests/outside/lettering.py`, in the Python that `ANSATA_PYTHON` names.

use ansata::lettering::{Face, catalogue, shaped_run};
use serde_json::{Value, json};

use crate::lettering::shipped;
use crate::lettering_outside::{axes, file, outside, say};

/// Each text of one direction and script, letters first, so that both sides take it for
/// one run. Invented wording, made to hold what the script joins, marks and reorders.
const WELSH: [&str; 20] = [
    "Canwyd y clychau",
    "tŵr yr eglwys",
    "Dŵr a thân",
    "gŵyl y gaeaf",
    "Llŷn ac Eifionydd",
    "hŷn na’r dderwen",
    "Gwŷr y glannau",
    "Ỳ ỳ Ẁ ẁ Ẃ ẃ",
    "Ÿ ÿ Ẅ ẅ",
    "âêîôûŵŷ",
    "ÂÊÎÔÛŴŶ",
    "Er cof am Elowen Tarrant",
    "y gloch fechan",
    "Dyffryn Marrowby",
    "a’i chyfeillion",
    "pêl-droediwr",
    "Rhoddwyd gan y canwyr",
    "ŵyn a’r ŵydd",
    "llythrennau",
    "ffynnon",
];
const VIETNAMESE: [&str; 20] = [
    "Tiếng chuông",
    "đã ngân ở đây",
    "Những người kéo chuông",
    "thung lũng",
    "Ấp Ầm Ẩn Ẫn Ận",
    "Ếch Ềnh Ểu Ễn Ệ",
    "ố ồ ổ ỗ ộ",
    "ớ ờ ở ỡ ợ",
    "ứ ừ ử ữ ự",
    "ắ ằ ẳ ẵ ặ",
    "Ước mơ",
    "trời đêm",
    "kính viễn vọng",
    "quả chuông mới",
    "Đài quan sát",
    "lễ hội mùa đông",
    "Nguyễn Ánh Dương",
    "khắc trên đồng",
    "Ơ ơ Ư ư Đ đ",
    "tưởng nhớ",
];
const GREEK: [&str; 20] = [
    "Οι καμπάνες ήχησαν",
    "Παρατηρητήριο",
    "Ιφιγένεια",
    "άυλος ΐ ΰ",
    "Ἐν ἀρχῇ ἦν ὁ λόγος",
    "ᾠδή ᾳ ῃ ῳ",
    "ἄνθρωπος",
    "Ῥόδος ῥέω",
    "ᾯ ᾮ ᾭ",
    "ὦ ὧ ὢ ὣ",
    "ς σ Σ ϲ",
    "ΑΒΓΔΕΖΗΘ",
    "ΛΜΝΞΟΠΡΣΤΥΦΧΨΩ",
    "Τη νέα καμπάνα",
    "εδώ, στον πύργο",
    "Α\u{301} ι\u{308}\u{301}",
    "Ὀκτώβριος",
    "νὺξ ἀστερόεσσα",
    "φαίνεται",
    "ΤΑΥ ΑΥΓΗ",
];
const CYRILLIC: [&str; 20] = [
    "Колокола звонили",
    "Обсерватория",
    "Щедрый вечер",
    "ёжик и чай",
    "ЪЫЬЭЮЯ",
    "Ђорђе Љубица Његош",
    "Ґанок Їжак Єва",
    "Ўлад і Ірына",
    "башня и долина",
    "ТАТА УХОДИТ",
    "Гаврила",
    "ѐ ѝ Ѐ Ѝ",
    "а\u{301} о\u{301} и\u{301}",
    "новый колокол",
    "АВГУСТ",
    "Жжение, ффф",
    "Ќирил Ѓорѓи",
    "подъезд объём",
    "Эхо",
    "Цифры 1914",
];
const HEBREW: [&str; 20] = [
    "שלום",
    "שָׁלוֹם לְךָ",
    "פַּעֲמוֹן חָדָשׁ",
    "בְּרֵאשִׁית",
    "אביגיל טרנט",
    "צלצלו בפעמון",
    "מִגְדָּל",
    "וּבַלַּיְלָה",
    "שׂ שׁ שּׂ שּׁ",
    "כּ ךּ פּ ףּ",
    "הֳרָפִים עֲלֵיהֶם",
    "אִמָּא",
    "ג׳ ז׳ צ׳",
    "תשפ״ד",
    "כָּל־הַכּוֹכָבִים",
    "קמץ ץ ף ך ם ן",
    "לָהּ",
    "חֻלְצָה",
    "מצפה הכוכבים",
    "נר\u{5C1} ש\u{5C2}\u{5BC}",
];
const ARABIC: [&str; 20] = [
    "قرعت الأجراس",
    "هنا",
    "لا إله",
    "الله",
    "مُحَمَّد",
    "السَّلَامُ عَلَيْكُمْ",
    "وأبيغيل تارانت",
    "الجرس الجديد",
    "مرصد الوادي",
    "لأ لإ لآ لا",
    "بين يدي",
    "ليلة النجوم",
    "شكرًا جزيلًا",
    "مؤسّسة",
    "تلسكوب",
    "ههه كككك",
    "يوليو",
    "پچژگ",
    "ذِكْرَى",
    "قلعة البرج",
];
const DEVANAGARI: [&str; 20] = [
    "नमस्ते",
    "घंटियाँ बजीं",
    "क्षत्रिय",
    "ज्ञान",
    "श्री",
    "हिन्दी",
    "कीर्ति",
    "र्क र्कि र्की",
    "विद्यार्थी",
    "द्ध द्व द्य ट्ट",
    "त्र प्र क्र ट्र",
    "स्त्री",
    "कृपा हृदय",
    "ऋतु",
    "आकाशवाणी",
    "नई घंटी",
    "वेधशाला",
    "क़ ख़ ग़ ज़ ड़ ढ़ फ़",
    "पूर्णिमा",
    "उत्कृष्ट",
];

/// Texts and the lettering for them.
fn scripts() -> [(&'static str, [&'static str; 20]); 10] {
    [
        ("EB Garamond", WELSH),
        ("Archivo", WELSH),
        ("EB Garamond", VIETNAMESE),
        ("Roboto", VIETNAMESE),
        ("EB Garamond", GREEK),
        ("EB Garamond", CYRILLIC),
        ("Roboto", CYRILLIC),
        ("Frank Ruhl Libre", HEBREW),
        ("Amiri", ARABIC),
        ("Noto Sans Devanagari", DEVANAGARI),
    ]
}

#[test]
fn every_shipped_script_is_shaped_as_harfbuzz_shapes_it() {
    let faces: Vec<std::sync::Arc<Face>> =
        scripts().iter().map(|(name, _)| shipped(name)).collect();
    let question: Vec<Value> = faces
        .iter()
        .zip(scripts())
        .map(|(face, (_, texts))| {
            let entry = catalogue().entry(&face.name).unwrap();
            let none: [&str; 0] = [];
            json!({ "file": file(entry), "axes": axes(face), "features": none, "texts": texts })
        })
        .collect();
    let Some(answer) = outside(&json!({ "shape": question, "ink": [] })) else { return };
    let (mut runs, mut count) = (0, 0);
    for (at, (face, (_, texts))) in faces.iter().zip(scripts()).enumerate() {
        for (text_at, text) in texts.iter().enumerate() {
            let theirs = &answer["shape"][at][text_at];
            let ours = shaped_run(text, face, &[]);
            let case = format!("{} {text:?}", face.name);
            let glyphs = theirs["glyphs"].as_array().unwrap();
            let ids: Vec<Value> = ours.glyphs.iter().map(|glyph| json!(glyph.id)).collect();
            let other: Vec<&Value> = glyphs.iter().map(|glyph| &glyph[0]).collect();
            assert_eq!(ids.iter().collect::<Vec<_>>(), other, "{case}");
            for (glyph, other) in ours.glyphs.iter().zip(glyphs) {
                assert_eq!(json!(glyph.cluster), other[1], "{case}");
                for (ours, theirs) in [(glyph.x_em, &other[2]), (glyph.y_em, &other[3])] {
                    let off = ours * face.upem - theirs.as_f64().unwrap();
                    assert!(off.abs() <= 1.0, "{case}: {glyph:?} is {off} units off");
                }
                count += 1;
            }
            assert!(ours.glyphs.iter().all(|glyph| glyph.id != 0), "{case} lacks a letter");
            runs += 1;
        }
    }
    say(&format!("{runs} texts of 7 scripts and languages agree in {count} glyphs"));
    assert_eq!(runs, 200);
}
