//! In: a picture file of grey values (binary PGM). Out: its pixels, and where the ink is.

use std::path::Path;

/// Grey pixels, row by row, 0 is black.
pub struct Grey {
    pub width: usize,
    pub height: usize,
    pub pixels: Vec<u8>,
}

impl Grey {
    pub fn read(file: &Path) -> Grey {
        let bytes = std::fs::read(file).expect("the picture was made");
        let mut at = 0;
        let mut words = Vec::new();
        while words.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
            words.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
            at = end + 1;
        }
        assert_eq!((words[0].as_str(), words[3].as_str()), ("P5", "255"));
        let (width, height) = (words[1].parse().unwrap(), words[2].parse().unwrap());
        let pixels = bytes[at..].to_vec();
        assert_eq!(pixels.len(), width * height);
        Grey { width, height, pixels }
    }

    pub fn at(&self, x: usize, y: usize) -> u8 {
        self.pixels[y * self.width + x]
    }

    pub fn dark(&self, x: usize, y: usize) -> bool {
        self.at(x, y) < 128
    }

    /// Length of the ink along a row from a pixel in it, in pixels; partly covered ends count in part.
    pub fn run(&self, x: usize, y: usize) -> f64 {
        assert!(self.dark(x, y), "there is no ink at {x}, {y}");
        let cover = |x: usize| f64::from(255 - self.at(x, y)) / 255.0;
        let right: f64 = (x..self.width).map(cover).take_while(|c| *c > 0.02).sum();
        let left: f64 = (0..x).rev().map(cover).take_while(|c| *c > 0.02).sum();
        left + right
    }

    /// The share of dark pixels that have a dark pixel of the other picture within a distance.
    pub fn found_in(&self, other: &Grey, distance: usize) -> f64 {
        let (mut all, mut found) = (0u32, 0u32);
        for y in 0..self.height {
            for x in 0..self.width {
                if !self.dark(x, y) {
                    continue;
                }
                all += 1;
                let rows = y.saturating_sub(distance)..(y + distance + 1).min(other.height);
                let columns = x.saturating_sub(distance)..(x + distance + 1).min(other.width);
                let near = rows.clone().any(|v| columns.clone().any(|u| other.dark(u, v)));
                found += u32::from(near);
            }
        }
        f64::from(found) / f64::from(all.max(1))
    }
}
