//! Whatever bytes come, there is an answer: good files, broken at random, never bring the reader down.

use std::time::{Duration, Instant};

use intake::{Format, IntakeError};

use crate::common::{dxf, svg};
use crate::dxf::heavy;
use crate::outside::files;
use crate::svg::HEAD;

/// Mutations of every file.
const ROUNDS: usize = 120;

/// Longest that a file of a few kilobytes may take, in a build for tests on a busy machine.
const LONGEST: Duration = Duration::from_secs(10);

/// The xorshift generator (G. Marsaglia: Xorshift RNGs, 2003; shifts from memory, any others that mix
/// would serve as well).
struct Random(u64);

impl Random {
    fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % count as u64).expect("a remainder of a usize is one")
    }
}

/// Words that are put in to hit what a reader may stumble over.
const WORDS: [&str; 24] = [
    "nan",
    "inf",
    "-",
    "1e38",
    "1e-45",
    "9e999",
    "-0",
    "0",
    "\n0\nSECTION\n",
    "\n0\nENDSEC\n",
    "\n0\nEOF\n",
    "\n70\n-1\n",
    "\n42\n1e300\n",
    "\n71\n99\n",
    "\n41\n0\n",
    "\n10\n1e300\n",
    "<g>",
    "</g>",
    "<use href=\"#head\"/>",
    "transform=\"scale(0)\"",
    "viewBox=\"0 0 0 0\"",
    "A 0 0 0 0 0 0 0",
    "stroke-width=\"1e30\"",
    "\u{0}",
];

fn mutated(good: &[u8], random: &mut Random) -> Vec<u8> {
    let mut bytes = good.to_vec();
    for _ in 0..=random.below(4) {
        if bytes.is_empty() {
            break;
        }
        let at = random.below(bytes.len());
        match random.below(6) {
            0 => bytes[at] = u8::try_from(random.below(256)).expect("below 256"),
            1 => {
                let end = bytes.len().min(at + 1 + random.below(40));
                bytes.drain(at..end);
            }
            2 => bytes.truncate(at),
            3 => {
                let word = WORDS[random.below(WORDS.len())];
                bytes.splice(at..at, word.bytes());
            }
            4 => {
                let from = random.below(bytes.len());
                let end = bytes.len().min(from + random.below(200));
                let part = bytes[from..end].to_vec();
                bytes.splice(at..at, part);
            }
            _ => {
                // A digit more or another digit: numbers that are still numbers.
                if let Some(digit) = bytes[at..].iter().position(u8::is_ascii_digit) {
                    bytes[at + digit] = b'0' + u8::try_from(random.below(10)).expect("below 10");
                }
            }
        }
    }
    bytes
}

/// Reads a file to the end of what can be asked of it.
fn read(bytes: &[u8], format: Format) -> Result<usize, IntakeError> {
    let found = intake::read(bytes, format)?;
    assert!(!found.shapes.is_empty());
    let unit = found.unit.unwrap_or(1.0);
    for shape in found.shapes.iter().take(3) {
        let shape = shape.scaled(unit);
        assert!(shape.outline.area().is_finite());
        if let Ok(points) = shape.points(200) {
            assert!((3..=200).contains(&points.len()));
        }
    }
    Ok(found.shapes.len())
}

#[test]
fn two_thousand_broken_files_each_get_an_answer() {
    let mut good: Vec<(Vec<u8>, Format)> = files()
        .map(|(name, bytes)| (bytes.to_vec(), Format::of(name).expect("a known ending")))
        .collect();
    good.push((
        svg(&format!(
            r##"<style>.a {{ fill: none; stroke: red }}</style><defs><g id="head"><path class="a" d="{HEAD}"/></g>
            <linearGradient id="l"><stop offset="0"/></linearGradient></defs><use href="#head" x="9"/>
            <circle r="5" fill="url(#l)"/><ellipse rx="9" ry="4" transform="rotate(9) skewX(3)"/>
            <text x="1" y="2">a<tspan dx="1">b</tspan></text><polyline points="0,0 9,9 9,0 0,0"/>"##
        ))
        .into_bytes(),
        Format::Svg,
    ));
    good.push((
        dxf(
            &format!("0|BLOCK|2|A|10|0|20|0|{}0|ENDBLK|", heavy()),
            "0|INSERT|2|A|10|5|20|5|41|2|50|30|70|2|71|2|44|300|45|300|0|ELLIPSE|10|0|20|0|11|60|21|0|40|0.5|",
        )
        .into_bytes(),
        Format::Dxf,
    ));
    let mut random = Random(0x5eed_0f0b_5e55_ed01);
    let (mut done, mut refused, mut slowest) = (0, 0, Duration::ZERO);
    for (bytes, format) in &good {
        for _ in 0..ROUNDS {
            let broken = mutated(bytes, &mut random);
            let started = Instant::now();
            if let Err(error) = read(&broken, *format) {
                refused += 1;
                assert!(!error.to_string().is_empty() && !error.remedy().is_empty());
            }
            slowest = slowest.max(started.elapsed());
            done += 1;
        }
    }
    assert!(done >= 2_000, "{done}");
    // Both answers must occur, or the mutations are not what they should be.
    assert!(
        refused > done / 10 && refused < done * 9 / 10,
        "{refused} of {done}"
    );
    assert!(slowest < LONGEST, "{slowest:?}");
}

#[test]
fn every_number_replaced_by_an_extreme_one_gets_an_answer() {
    const EXTREMES: [&str; 10] = [
        "0",
        "-1",
        "1e38",
        "-3.4e38",
        "1e-40",
        "1e20",
        "nan",
        "99999999999999999999",
        "1e30",
        "0.0000001",
    ];
    /// Numbers that are replaced in each file, from its end, where its shapes stand.
    const NUMBERS: usize = 30;
    let good = files().chain([("head.svg", EXTREME_SVG.as_bytes())]);
    let (mut done, mut slowest) = (0, Duration::ZERO);
    for (name, bytes) in good {
        let format = Format::of(name).expect("a known ending");
        let starts =
            |at: &usize| bytes[*at].is_ascii_digit() && !bytes[at - 1].is_ascii_alphanumeric();
        for at in (1..bytes.len()).rev().filter(starts).take(NUMBERS) {
            let more = |byte: &u8| !byte.is_ascii_digit() && *byte != b'.';
            let end = bytes[at..]
                .iter()
                .position(more)
                .map_or(bytes.len(), |end| at + end);
            for extreme in EXTREMES {
                let broken = [&bytes[..at], extreme.as_bytes(), &bytes[end..]].concat();
                let started = Instant::now();
                let _ = read(&broken, format);
                slowest = slowest.max(started.elapsed());
                done += 1;
            }
        }
    }
    assert!(done > 2_000, "{done}");
    assert!(slowest < LONGEST, "{slowest:?}");
}

/// Whatever of SVG takes numbers.
const EXTREME_SVG: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">
    <symbol id="s" viewBox="0 0 9 9"><circle cx="5" cy="5" r="4" stroke="red" stroke-width="2"/></symbol>
    <use href="#s" x="3" y="3" width="20" height="20"/><rect x="1" y="2" width="30" height="40" rx="5" ry="6"/>
    <g transform="matrix(1 2 3 4 5 6)" opacity="0.5"><path d="M 9 9 A 8 7 20 1 0 30 30 Q 5 6 7 8 Z"/></g>
    <ellipse cx="9" cy="8" rx="7" ry="6" transform="rotate(30 4 5) skewX(20)"/></svg>"##;

#[test]
fn two_thousand_files_of_noise_each_get_an_answer() {
    let mut random = Random(0x0dd_ba11);
    for round in 0..2_000 {
        let noise: Vec<u8> = (0..random.below(300))
            .map(|_| {
                u8::try_from(random.below(if round % 2 == 0 { 256 } else { 64 }))
                    .expect("below 256")
            })
            .collect();
        for format in [Format::Svg, Format::Dxf] {
            assert!(read(&noise, format).is_err());
        }
    }
}
