//! Proposed routes of 200 random heads, each against a random search that may take a hundred times as
//! long as the proposal did. It prints what it finds and fails where a proposal is not clear or gains
//! more than a tenth above the best. It takes the better part of an hour.

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "the search is given time by the clock, and says what it found"
)]

use std::time::{Duration, Instant};

#[path = "../tests/common/mod.rs"]
#[allow(dead_code, unused_imports, reason = "the tests use the rest")]
mod common;

use common::Random;
use common::dense::{GAIN, clear_proposal, dense_search};
use common::routes::planted;

/// Heads that are tried; one in four may be clear straight to the exit.
const HEADS: usize = 200;

/// What the search may take for each second of the proposal.
const TIMES: u32 = 100;

/// The least time that a proposal is taken to need: those straight to the exit need less.
const LEAST: Duration = Duration::from_millis(10);

fn main() {
    let mut random = Random::new(212);
    // The searches take as many numbers as they have time for: the heads must not depend on that.
    let mut searching = Random::new(213);
    let mut ratios = Vec::new();
    let mut longest = Duration::ZERO;
    for head in 0..HEADS {
        let (project, route) = planted(&mut random, !head.is_multiple_of(4));
        let start = Instant::now();
        let found = clear_proposal(&project);
        let took = start.elapsed();
        longest = longest.max(took);
        let until = Instant::now() + TIMES * took.max(LEAST);
        let best = dense_search(&mut searching, &project, &route, || Instant::now() < until);
        match found {
            Ok(found) => {
                ratios.push(found.gain / best);
                println!("head {head}: {took:?} {:.4}", found.gain / best);
            }
            Err(fault) => println!("head {head}: {took:?} {fault}"),
        }
    }
    ratios.sort_by(f64::total_cmp);
    let unclear = HEADS - ratios.len();
    let worse = ratios.iter().filter(|&&ratio| ratio > GAIN).count();
    println!("unclear {unclear}, worse {worse}, longest {longest:?}");
    println!(
        "ratios: median {:?}, most {:?}",
        ratios.get(ratios.len() / 2),
        ratios.last()
    );
    assert_eq!((unclear, worse), (0, 0));
}
