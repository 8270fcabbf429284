use super::*;

fn flat(width: u32, height: u32, level: u8) -> Grey {
    Grey { width, height, levels: vec![level; (width * height) as usize] }
}

fn screens() -> Vec<Screen> {
    let mut all: Vec<Screen> = Kernel::ALL.into_iter().map(Screen::Diffused).collect();
    all.push(Screen::Dots { per_mm: 2.0, angle_degrees: 45.0 });
    all.push(Screen::Lines { per_mm: 2.0, angle_degrees: 15.0 });
    all
}

#[test]
fn white_is_left_and_black_is_made() {
    for screen in screens() {
        for least in [0, 1, 2, 5, 100] {
            let made = |level| screened(&flat(61, 43, level), screen, 20.0, least).count();
            assert_eq!((made(255), made(0)), (0, 61 * 43), "{screen:?}, {least}");
        }
    }
}

#[test]
fn a_flat_tone_is_made_by_the_share_of_light_it_lacks() {
    // IEC 61966-2-1: level 188 stands for 0.502886 of white's light.
    for screen in screens() {
        let share = screened(&flat(200, 200, 188), screen, 20.0, 2).count() as f64 / 40_000.0;
        assert!((share - 0.497_114).abs() < 0.005, "{screen:?}: {share}");
    }
}

#[test]
fn two_dots_share_by_hand() {
    // Rows of two dots at level 188, each 32 579 of 65 536 dark: 1 - 0.502 886 of it. Row by
    // row the two together ask for 0.994 of a dot, so of 100 rows 99 or 100 dots are made.
    let made = screened(&flat(2, 100, 188), Screen::Diffused(Kernel::FloydSteinberg), 20.0, 1);
    assert!((98..=101).contains(&made.count()), "{made:?}");
}

#[test]
fn cells_are_made_as_a_whole_and_none_is_smaller() {
    // 23 dots in cells of 5: four, cut at 23 x 1/4, 2/4, 3/4 and rounded down: 0 5 11 17 23.
    let ramp = Grey {
        width: 23,
        height: 23,
        levels: (0..23).flat_map(|_| (0..23).map(|x| x * 11)).collect(),
    };
    let bits = screened(&ramp, Screen::Diffused(Kernel::Stucki), 20.0, 5);
    let cuts = [0, 5, 11, 17, 23];
    for down in cuts.windows(2) {
        for across in cuts.windows(2) {
            let cell = (down[0]..down[1]).flat_map(|y| (across[0]..across[1]).map(move |x| (x, y)));
            let made = cell.clone().filter(|(x, y)| bits.made(*x, *y)).count();
            assert!(made == 0 || made == cell.count(), "{across:?} {down:?}: {made}");
        }
    }
    let made = bits.count();
    assert!(0 < made && made < 23 * 23);
}

#[test]
fn a_ruling_finer_than_the_process_can_hold_is_taken_as_the_finest() {
    // Least dot 3: 2 x (3 + 2) dots from row to row, at 20 dots to the mm 2 rows.
    assert!((finest_ruling(20.0, 3) - 2.0).abs() < 1e-12);
    assert!((finest_ruling(24.0, 0) - 4.0).abs() < 1e-12);
    let at = |per_mm| {
        screened(&flat(90, 70, 150), Screen::Dots { per_mm, angle_degrees: 30.0 }, 20.0, 3)
    };
    for per_mm in [2.0001, 5.0, 1e300, f64::INFINITY, f64::NAN, -1.0] {
        assert_eq!(at(per_mm), at(2.0), "{per_mm}");
    }
    assert_ne!(at(1.9), at(2.0));
}

#[test]
fn kernels_hand_on_the_whole_error_forward() {
    for (kernel, of) in Kernel::ALL.into_iter().zip([16, 48, 42, 32]) {
        let shares = kernel.shares();
        assert_eq!(shares.iter().map(|share| share.2).sum::<i64>(), of, "{kernel:?}");
        assert!(shares.iter().all(|(ahead, below, _)| *below > 0 || *ahead > 0), "{kernel:?}");
    }
}

#[test]
fn the_least_dot_is_held_at_fewer_places() {
    // 400 x 400 dots with 16 from row to row: 25 x 25 dots of the screen, all their middles in
    // the picture. Level 252 lacks 0.026_6 of white's light: 6.8 of 16 x 16 dots, fewer than
    // the 12 of a least dot of 4 (4 x 4 less its corners).
    let screen = Screen::Dots { per_mm: 1.25, angle_degrees: 0.0 };
    let bits = screened(&flat(400, 400, 252), screen, 20.0, 4);
    // A run of 2 dots with 4 below it is the top of one; no other run of 2 is as far from one
    // below another.
    let run = |x: u32, y: u32, long: u32| {
        (x..x + long).all(|x| bits.made(x, y)) && !bits.made(x + long, y) && !bits.made(x - 1, y)
    };
    let mut dots = 0;
    for y in 1..399 {
        for x in 2..398 {
            dots += u64::from(run(x, y, 2) && run(x - 1, y + 1, 4));
        }
    }
    assert_eq!(dots * 12, bits.count(), "all that is made is least dots");
    let asked = 0.026_6 * 160_000.0 / 12.0;
    assert!((dots as f64 - asked).abs() < 8.0, "{dots}, not {asked}");
}
