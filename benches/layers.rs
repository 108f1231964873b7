//! Wall-clock time of every question: `cargo bench --bench layers`, with a word to choose.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};

mod questions;

fn layers(criterion: &mut Criterion) {
    for one in questions::questions().expect("every question can be put") {
        (one.ask)(0).unwrap_or_else(|error| panic!("{}: {error}", one.name));
        let mut group = criterion.benchmark_group(one.layer);
        group
            .sample_size(20)
            .warm_up_time(Duration::from_millis(300))
            .measurement_time(Duration::from_secs(1));
        let mut index = 0;
        group.bench_function(&one.name, |bencher| {
            bencher.iter(|| {
                index += 1;
                (one.ask)(black_box(index)).unwrap()
            });
        });
        group.finish();
    }
}

criterion_group!(benches, layers);
criterion_main!(benches);
