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
    let begun = Instant::now();
    black_box(work());
    let once = begun.elapsed().max(Duration::from_nanos(50));
    let repeats = (SAMPLE.as_secs_f64() / once.as_secs_f64()).ceil().clamp(1.0, 10_000.0);
    let mut samples = Vec::new();
    let begun = Instant::now();
    while samples.len() < LEAST_SAMPLES
        || (begun.elapsed() < SAMPLED_FOR && samples.len() < MOST_SAMPLES)
    {
        let started = Instant::now();
        let mut done = 0.0;
        while done < repeats {
            black_box(work());
            done += 1.0;
        }
        samples.push(started.elapsed().as_secs_f64() * 1e6 / repeats);
    }
    samples.sort_by(f64::total_cmp);
    samples[samples.len() / 2]
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
