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

    /// The picture is cut into square tiles; in each, what share of the dark pixels has a dark pixel of
    /// the other picture (grey is enough: a thin line may be spread over two pixels) within a distance? The least share of all tiles with enough ink to tell.
    pub fn worst_tile(&self, other: &Grey, distance: usize, tile: usize) -> f64 {
        let columns = self.width.div_ceil(tile);
        let mut tiles = vec![(0u32, 0u32); columns * self.height.div_ceil(tile)];
        for y in 0..self.height {
            for x in (0..self.width).filter(|x| self.dark(*x, y)) {
                let rows = y.saturating_sub(distance)..(y + distance + 1).min(other.height);
                let span = x.saturating_sub(distance)..(x + distance + 1).min(other.width);
                let near = rows.clone().any(|v| span.clone().any(|u| other.at(u, v) < 200));
                let (all, found) = &mut tiles[y / tile * columns + x / tile];
                *all += 1;
                *found += u32::from(near);
            }
        }
        let enough = tiles.iter().filter(|t| t.0 >= 40);
        enough.map(|(all, found)| f64::from(*found) / f64::from(*all)).fold(1.0, f64::min)
    }
}
