use super::*;

fn grey(width: u32, levels: &[u8]) -> Grey {
    let height = u32::try_from(levels.len()).unwrap() / width;
    Grey { width, height, levels: levels.to_vec() }
}

#[test]
fn one_level_and_one_dot_stay_what_they_are() {
    let all = Toning {
        black: 0.01,
        white: 0.01,
        contrast: Some(LocalContrast { tiles: (8, 8), clip: 1.0 }),
        midtone: None,
        sharpen: Some(Unsharp { radius_px: 2.0, amount: 1.0 }),
    };
    for level in [0, 1, 100, 128, 254, 255] {
        for (width, height) in [(1, 1), (7, 1), (1, 7), (20, 30)] {
            let flat = grey(width, &vec![level; (width * height) as usize]);
            assert_eq!(toned(&flat, &all).levels, flat.levels, "{level}, {width} x {height}");
        }
    }
    assert_eq!(toned(&grey(4, &[1, 90, 3, 255]), &Toning::default()).levels, [1, 90, 3, 255]);
}

#[test]
fn levels_are_stretched_between_the_shares() {
    // 100 dots of levels 50, 51 .. 149: 2 of 100 may fall below, 5 of 100 lie above.
    let ramp: Vec<u8> = (50..150).collect();
    let toning = Toning { black: 0.02, white: 0.05, ..Toning::default() };
    let levels = toned(&grey(10, &ramp), &toning).levels;
    // 50 and 51 fall below 52; 145 .. 149 above 144. (100 - 52) / 92 x 255 = 133.04.
    assert_eq!((levels[2], levels[1], levels[50]), (0, 0, 133));
    assert_eq!((levels[3], levels[94], levels[95], levels[93]), (3, 255, 255, 252));
}

#[test]
fn a_dull_picture_is_stretched_fourfold_at_most() {
    // Two levels, 100 and 110: 10 of 64 apart, so 54 more, 54 x 100 / 245 of them below:
    // from 77.959; (100 - 77.959) / 64 x 255 = 87.82 and (110 - 77.959) / 64 x 255 = 127.66.
    let toning = Toning { black: 0.001, white: 0.001, ..Toning::default() };
    assert_eq!(toned(&grey(2, &[100, 110, 100, 110]), &toning).levels, [88, 128, 88, 128]);
}

#[test]
fn the_midtone_moves_the_middle_and_no_end() {
    let toning = Toning { midtone: Some(0.6), ..Toning::default() };
    // 0.6 is 0.5 to the power 0.736966; 64 / 255 to that power is 0.361021.
    let levels = toned(&grey(4, &[0, 64, 128, 255]), &toning).levels;
    assert_eq!(levels, [0, 92, 153, 255]);
}

#[test]
fn an_edge_is_drawn_out_by_what_its_blur_lacks() {
    // Deviation 0.5: weights exp(-2 x²) are 1, 0.135335, 0.000335; sum 1.271341. At an edge
    // from 100 to 200 the last dot of 100 is blurred to 100 + 100 x 0.135670 / 1.271341.
    let toning =
        Toning { sharpen: Some(Unsharp { radius_px: 0.5, amount: 2.0 }), ..Toning::default() };
    let edge = grey(8, &[100, 100, 100, 100, 200, 200, 200, 200].repeat(3));
    let levels = toned(&edge, &toning).levels;
    // 10.671 less twice; one dot further 0.026.
    assert_eq!(levels[8..16], [100, 100, 100, 79, 221, 200, 200, 200]);
}

#[test]
fn without_a_limit_levels_become_the_share_that_is_darker() {
    // One tile of 4 levels: (0 + 0.5) / 4, (1 + 0.5) / 4 ... of 255.
    let toning = Toning {
        contrast: Some(LocalContrast { tiles: (1, 1), clip: 256.0 }),
        ..Toning::default()
    };
    assert_eq!(toned(&grey(2, &[10, 11, 12, 250]), &toning).levels, [32, 96, 159, 223]);
}

#[test]
fn what_is_no_number_does_nothing_bad() {
    let ramp: Vec<u8> = (0..=255).collect();
    for odd in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e300, 0.0] {
        let toning = Toning {
            black: odd,
            white: odd,
            contrast: Some(LocalContrast { tiles: (0, u32::MAX), clip: odd }),
            midtone: Some(odd),
            sharpen: Some(Unsharp { radius_px: odd, amount: odd }),
        };
        assert_eq!(toned(&grey(16, &ramp), &toning).levels.len(), 256);
    }
    assert!(toned(&grey(1, &[]), &Toning::default()).levels.is_empty());
}
