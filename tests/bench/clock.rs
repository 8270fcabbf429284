//! Medians of many samples, and tables of them.

use std::hint::black_box;
use std::time::{Duration, Instant};

/// How long one figure is sampled for, and how many samples at least and at most.
const SAMPLED_FOR: Duration = Duration::from_millis(300);
const LEAST_SAMPLES: usize = 7;
const MOST_SAMPLES: usize = 2000;

/// One sample takes at least so long; shorter work is repeated within it.
const SAMPLE: Duration = Duration::from_micros(200);

/// Median time of some work, µs.
pub(super) fn median<R>(mut work: impl FnMut() -> R) -> f64 {
    let mut work = || {
        black_box(work());
    };
    medians(&mut [&mut work])[0]
}

/// Median times of several works, µs. Their samples are taken in turns, so that a machine that
/// is slower for a while is so for all of them.
pub(super) fn medians(works: &mut [&mut dyn FnMut()]) -> Vec<f64> {
    let mut repeats = |work: &mut &mut dyn FnMut()| {
        let once = timed(work, 1.0).max(0.05) / 1e6;
        (SAMPLE.as_secs_f64() / once).ceil().clamp(1.0, 10_000.0)
    };
    let repeats: Vec<f64> = works.iter_mut().map(&mut repeats).collect();
    let mut samples = vec![Vec::new(); works.len()];
    let begun = Instant::now();
    let enough = SAMPLED_FOR * u32::try_from(works.len()).unwrap_or(1);
    let mut taken = 0;
    while taken < LEAST_SAMPLES || (begun.elapsed() < enough && taken < MOST_SAMPLES) {
        for ((work, &repeats), samples) in works.iter_mut().zip(&repeats).zip(&mut samples) {
            samples.push(timed(work, repeats) / repeats);
        }
        taken += 1;
    }
    samples.iter_mut().for_each(|samples| samples.sort_by(f64::total_cmp));
    samples.iter().map(|samples| samples[samples.len() / 2]).collect()
}

/// Time of some work done so many times, µs.
fn timed(work: &mut &mut dyn FnMut(), times: f64) -> f64 {
    let started = Instant::now();
    let mut done = 0.0;
    while done < times {
        work();
        done += 1.0;
    }
    started.elapsed().as_secs_f64() * 1e6
}

/// Prints a table: one row a case, times in µs and as multiples of the first.
pub(super) fn table(title: &str, columns: &[&str], rows: &[(String, Vec<f64>)]) {
    println!("\n{title} (µs, median; × the first column)");
    let wide = rows.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    print!("{:wide$}", "");
    for column in columns {
        print!("  {column:>20}");
    }
    println!();
    for (name, times) in rows {
        print!("{name:wide$}");
        for (at, time) in times.iter().enumerate() {
            let times = if at == 0 { String::new() } else { format!(" {:5.2}×", time / times[0]) };
            print!("  {:>20}", format!("{time:.1}{times}"));
        }
        println!();
    }
}
