//! Throwing spoilt input at readers.
//!
//! In: a corpus of good and odd inputs, a target. Out: how many executions, or the first input that broke it.
//! Always true: the draws are a fixed sequence, so a run is the same everywhere and can be repeated; no compiler
//! support is needed, so it runs on the stable toolchain. `TURNLEAF_FUZZ=K` runs K times as many executions,
//! `TURNLEAF_FUZZ_SEED=S` another sequence.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::time::Instant;

/// SplitMix64 (public domain, S. Vigna).
pub struct Draws(u64);

impl Draws {
    /// From a start.
    pub fn new(start: u64) -> Draws {
        Draws(start)
    }
    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    /// A whole number below a limit (0 for a limit of 0).
    pub fn below(&mut self, limit: usize) -> usize {
        if limit == 0 { 0 } else { (self.bits() % limit as u64) as usize }
    }
}

/// Bytes that readers stumble over.
const ODD_BYTES: &[u8] = b"\0\t\n\r \"'(),-./0129:;<=>[\\]^_`{|}~\x7f\x80\xc0\xe2\xf0\xff";
/// Numbers that readers stumble over.
const ODD_NUMBERS: &[&str] = &[
    "0",
    "-0",
    "-1",
    "1e308",
    "1e-308",
    "1e999",
    "-1e999",
    "NaN",
    "inf",
    "2147483648",
    "4294967296",
    "9223372036854775807",
    "9223372036854775808",
    "18446744073709551616",
    "0.1",
    "1/0",
    "0/0",
    "1e",
    "0x10",
    "00",
    "1.7976931348623157e308",
    "5e-324",
    "99999999999999999999999999999999999999999",
];
/// An input is not grown beyond this, bytes.
const LONGEST: usize = 64 << 10;

/// A corpus with the words its inputs are made of.
pub struct Corpus {
    /// Inputs.
    pub inputs: Vec<Vec<u8>>,
    /// Words to put in.
    pub words: Vec<Vec<u8>>,
}

impl Corpus {
    /// Of inputs and words.
    pub fn new(inputs: Vec<Vec<u8>>, words: &[&str]) -> Corpus {
        assert!(!inputs.is_empty(), "a corpus of nothing");
        Corpus { inputs, words: words.iter().map(|w| w.as_bytes().to_vec()).collect() }
    }
    /// The files of a folder, in the order of their names.
    pub fn folder(path: &Path, words: &[&str]) -> Corpus {
        let mut names: Vec<_> =
            std::fs::read_dir(path).expect("the corpus is there").flatten().map(|e| e.path()).collect();
        names.sort();
        Corpus::new(names.iter().map(|n| std::fs::read(n).expect("a corpus file")).collect(), words)
    }
    /// Each line of a text as an input.
    pub fn lines(text: &str, words: &[&str]) -> Corpus {
        Corpus::new(text.lines().map(|l| l.as_bytes().to_vec()).collect(), words)
    }

    /// An input, spoilt one to six times.
    pub fn spoilt(&self, draws: &mut Draws) -> Vec<u8> {
        let mut bytes = self.inputs[draws.below(self.inputs.len())].clone();
        for _ in 0..=draws.below(6) {
            self.spoil(&mut bytes, draws);
        }
        bytes.truncate(LONGEST);
        bytes
    }

    fn spoil(&self, bytes: &mut Vec<u8>, draws: &mut Draws) {
        let at = draws.below(bytes.len() + 1);
        let broad = draws.below(8);
        let span = draws.below(1 << broad);
        let end = (at + span).min(bytes.len());
        match draws.below(11) {
            0 if at < bytes.len() => bytes[at] ^= 1 << draws.below(8),
            1 if at < bytes.len() => bytes[at] = ODD_BYTES[draws.below(ODD_BYTES.len())],
            2 => bytes.insert(at, ODD_BYTES[draws.below(ODD_BYTES.len())]),
            3 => {
                bytes.drain(at..end);
            }
            4 => {
                let copy = bytes[at..end].to_vec();
                let to = draws.below(bytes.len() + 1);
                bytes.splice(to..to, copy);
            }
            5 => bytes.truncate(at),
            6 if !self.words.is_empty() => {
                let word = self.words[draws.below(self.words.len())].iter().copied();
                bytes.splice(at..at, word.collect::<Vec<u8>>());
            }
            7 => {
                // A number in place of a number.
                let digit = |b: &u8| b.is_ascii_digit() || b".-+eE".contains(b);
                let Some(first) = bytes[at..].iter().position(digit) else { return };
                let first = at + first;
                let last = bytes[first..].iter().position(|b| !digit(b)).map_or(bytes.len(), |l| first + l);
                let number = ODD_NUMBERS[draws.below(ODD_NUMBERS.len())].bytes();
                bytes.splice(first..last, number.collect::<Vec<u8>>());
            }
            8 => {
                // The rest of another input.
                let other = &self.inputs[draws.below(self.inputs.len())];
                let from = draws.below(other.len() + 1);
                bytes.truncate(at);
                bytes.extend_from_slice(&other[from..]);
            }
            9 => {
                let many = 1 << draws.below(10);
                let byte = ODD_BYTES[draws.below(ODD_BYTES.len())];
                bytes.splice(at..at, std::iter::repeat_n(byte, many).collect::<Vec<u8>>());
            }
            _ => {
                // Two stretches changed about.
                let other = draws.below(bytes.len() + 1);
                let (a, b) = (at.min(other), at.max(other));
                bytes[a..b].reverse();
            }
        }
    }
}

/// What a run did.
#[derive(Debug)]
pub struct Ran {
    /// Executions.
    pub executions: u64,
    /// Inputs the target took for good.
    pub taken: u64,
}

/// Runs a target on `usual` spoilt inputs (times `TURNLEAF_FUZZ`), after the corpus itself. The target says whether
/// it took the input for good, or in a sentence what is wrong with itself; that, and a panic, is reported with the
/// input that led there.
pub fn run(name: &str, corpus: &Corpus, usual: u64, target: impl Fn(&[u8]) -> Result<bool, String>) -> Ran {
    let of = |key: &str, usual: u64| std::env::var(key).ok().and_then(|v| v.parse().ok()).unwrap_or(usual);
    let most = usual * of("TURNLEAF_FUZZ", 1);
    let mut draws = Draws::new(of("TURNLEAF_FUZZ_SEED", 1));
    let mut ran = Ran { executions: 0, taken: 0 };
    let started = Instant::now();
    let mut slowest = (0u128, Vec::new());
    for i in 0..most + corpus.inputs.len() as u64 {
        let input = match corpus.inputs.get(i as usize) {
            Some(input) => input.clone(),
            None => corpus.spoilt(&mut draws),
        };
        let began = Instant::now();
        let outcome = catch_unwind(AssertUnwindSafe(|| target(&input)));
        let took = began.elapsed().as_micros();
        if took > slowest.0 {
            slowest = (took, input.clone());
        }
        ran.executions += 1;
        match outcome {
            Ok(Ok(taken)) => ran.taken += u64::from(taken),
            Ok(Err(sentence)) => panic!("{name}, execution {i}: {sentence}\ninput: {}", shown(&input)),
            Err(_) => panic!("{name}, execution {i} panicked\ninput: {}", shown(&input)),
        }
    }
    println!(
        "{name}: {} executions, {} taken, {:.1} s; slowest {} µs on {} bytes",
        ran.executions,
        ran.taken,
        started.elapsed().as_secs_f64(),
        slowest.0,
        slowest.1.len()
    );
    if let Some(folder) = std::env::var_os("TURNLEAF_FUZZ_SLOW") {
        // For somebody who wants to look at it; a run does not depend on it.
        let _ = std::fs::write(Path::new(&folder).join(format!("{name}.slowest")), &slowest.1);
    }
    ran
}

/// An input as a text that can be pasted into a test.
fn shown(input: &[u8]) -> String {
    let text: String = input.iter().flat_map(|b| std::ascii::escape_default(*b)).map(char::from).collect();
    format!("b\"{text}\"")
}
