//! Floors and wishes against published figures and on both sides of each bound.

use super::{Floor, FloorFrom, Letters, floor, letter_height, process_row};
use crate::layout::{
    Align, Breaks, Colours, Cut, Engraving, Fill, Finish, FitMode, FitWishes, HolesAsked, Hyphens,
    Keys, Layout, LetteringChoice, Line, Material, Mount, Paper, Plate, Process, ProofNotes,
    Reading, Setting, Shape, Shop, Side,
};

fn table(text: &str) -> Vec<Vec<f64>> {
    let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    rows.map(|row| row.split(',').map(|cell| cell.parse().unwrap()).collect()).collect()
}

fn line() -> Line {
    Line {
        text: "Marrowby Vale".to_owned(),
        ornament: None,
        size: 1.0,
        cap_height: None,
        at_least: None,
        at_most: None,
        lettering: LetteringChoice::shipped("Cinzel".to_owned()),
        features: Vec::new(),
        setting: Setting::default(),
        align: Align::Centre,
        space: 0.35,
        leading: None,
        breaks: Breaks::LastResort,
        hyphens: Hyphens::Never,
        keep: Vec::new(),
    }
}

fn layout(process: Process, distance: f64) -> Layout {
    Layout {
        title: String::new(),
        proof: ProofNotes {
            number: 1,
            replaces: None,
            date: None,
            client: None,
            spelling: None,
            signatures: Vec::new(),
            paper: Paper::A4,
        },
        plate: Plate {
            width: 120.0,
            height: 80.0,
            shape: Shape::Rectangle,
            thickness: 1.0,
            material: Material::Brass,
            colours: Colours::Own,
            finish: Finish::Satin,
            coating: None,
            bevel: 0.0,
            margin: 7.0,
            border: None,
            quantity: 1,
            from_face: None,
        },
        engraving: Engraving {
            process,
            from: Side::Front,
            cut: Cut::Incised,
            fill: Fill::Black,
            reading: Reading { distance },
            cutter: None,
            least_land: None,
        },
        fit: FitWishes { mode: FitMode::Even, ease: 0.9 },
        lines: vec![line()],
        corners: None,
        photos: Vec::new(),
        mount: Mount {
            fixing: None,
            holes: HolesAsked::None,
            inset: 8.0,
            slots: false,
            give: None,
        },
        face: None,
        accepted: Vec::new(),
        shop: Shop::default(),
        inches: false,
        keys: Keys::default(),
    }
}

#[test]
fn heights_agree_with_the_table_of_visual_angles() {
    let minutes = [1.0, 5.0, 10.0, 15.0, 16.0, 20.0, 22.0, 31.0];
    let rows = table(include_str!("../../tests/reference/visual_angle.csv"));
    assert_eq!(rows.len(), 10);
    for row in rows {
        for (angle, published) in minutes.iter().zip(&row[1..]) {
            let got = letter_height(row[0], *angle);
            // The table prints thousandths.
            assert!((got - published).abs() <= 0.000_51, "{} mm at {angle}': {got}", row[0]);
        }
    }
}

#[test]
fn heights_agree_with_a_published_workplace_rule() {
    for row in table(include_str!("../../tests/reference/asr_a6.csv")) {
        assert!((letter_height(row[0], 22.18) - row[1]).abs() <= 0.1, "{row:?}");
        assert!((letter_height(row[0], 31.25) - row[2]).abs() <= 0.1, "{row:?}");
    }
    // The 6/6 letter: published as 8.8 and "about 9" mm.
    assert!((8.7..=8.9).contains(&letter_height(6000.0, 5.0)));
}

#[test]
fn the_least_angle_is_not_the_rounded_factor() {
    // NUREG-0700 prints 15' as 0.004 d, which is only 13.75'; the angle is used.
    assert!((letter_height(1000.0, 15.0) - 4.363).abs() < 0.001);
}

fn of(change: impl FnOnce(&mut Layout, &mut Line), body: Option<f64>) -> Floor {
    let mut layout = layout(Process::Rotary, 400.0);
    let mut line = line();
    change(&mut layout, &mut line);
    floor(&line, &Letters { body, thin: None, cut: 0.0 }, &layout)
}

#[test]
fn the_process_sets_the_floor_until_someone_asks_for_more() {
    let least = process_row(Process::Rotary).least;
    let plain = of(|_, _| (), None);
    assert_eq!((plain.floor, plain.floor_from), (least, FloorFrom::Process));
    assert!(!plain.shop_figure && plain.wish.is_none() && plain.ceiling.is_none());

    let below = of(|_, line| line.at_least = Some(least - 0.1), None);
    assert_eq!((below.floor, below.floor_from), (least, FloorFrom::Process));
    let above = of(|_, line| line.at_least = Some(least + 0.1), None);
    assert_eq!((above.floor, above.floor_from), (least + 0.1, FloorFrom::Layout));
}

#[test]
fn the_shops_own_figure_goes_before_the_table_both_ways() {
    for own in [1.0, 4.0] {
        let set = |layout: &mut Layout| {
            layout.shop.least_cap_height.insert(Process::Rotary, own);
            layout.shop.least_cap_height.insert(Process::Drag, 9.0);
        };
        let shop = of(|layout, _| set(layout), None);
        assert_eq!((shop.floor, shop.shop_figure), (own, true));
        let asked = of(
            |layout, line| {
                set(layout);
                line.at_least = Some(5.0);
            },
            None,
        );
        assert_eq!((asked.floor, asked.shop_figure), (5.0, false));
    }
}

#[test]
fn a_stated_height_leaves_the_floor_alone_and_a_ceiling_is_handed_on() {
    let stated = of(
        |_, line| {
            line.cap_height = Some(1.0);
            line.at_most = Some(6.0);
        },
        None,
    );
    assert_eq!((stated.floor, stated.ceiling), (process_row(Process::Rotary).least, Some(6.0)));
}

#[test]
fn the_wish_is_for_the_smallest_letters() {
    let half = of(|_, _| (), Some(0.5));
    // 400 mm at 15' is 1.745 mm of x-height; capitals twice as high.
    assert!(half.wish.is_some_and(|wish| (wish - 3.4907).abs() < 0.0001));
    assert!(half.preferred.is_some_and(|wish| (wish - 4.6542).abs() < 0.0001));
}

#[test]
fn single_strokes_are_read_with_their_cut_and_are_no_blots() {
    let layout = layout(Process::Rotary, 400.0);
    let single = |body, cut| floor(&line(), &Letters { body, thin: None, cut }, &layout);
    // 1.7453 mm of x-height over the strokes, 0.25 of them the cut: 1.4953 between centres,
    // capitals of twice that and the cut.
    let half = single(Some(0.5), 0.25);
    assert!(half.wish.is_some_and(|wish| (wish - 3.2407).abs() < 0.0001));
    // A broad cutter asks for more than the process.
    let broad = single(None, 3.0);
    assert_eq!((broad.floor, broad.floor_from), (6.0, FloorFrom::Stroke));
}
