//! Columns that grow row by row and are read one at a time: few rows stay in memory, many go to a temporary file.
//!
//! Rows are gathered into blocks, and a block is laid down column after column, so that a column is read in a
//! few pieces however many rows there are. The file has no name: nothing is left behind, however the program ends.

use scenarios::io_errors::{no_room, unwritten};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};
use tempfile::{SpooledTempFile, spooled_tempfile_in};

/// Why rows could not be kept or read back.
#[derive(Debug, thiserror::Error)]
#[error("cannot keep possible years in a temporary file in {folder}: {}; {}", unwritten(.cause), remedy(.cause))]
pub struct SpillError {
    /// The folder of the temporary file.
    pub folder: PathBuf,
    /// The system's reason.
    pub cause: std::io::Error,
}

fn remedy(cause: &std::io::Error) -> &'static str {
    if no_room(cause) {
        "free some space there, name another folder in TMPDIR (on Windows TMP), or ask for fewer possible years"
    } else {
        "name another folder in TMPDIR (on Windows TMP)"
    }
}

/// How much stays in memory, and where the rest goes.
#[derive(Clone, Debug)]
pub struct Room {
    /// Bytes of rows gathered before they are laid down.
    pub block: usize,
    /// Bytes laid down in memory before all goes to a file.
    pub memory: usize,
    /// Folder of the file.
    pub folder: PathBuf,
}

impl Default for Room {
    /// A usual run stays in memory whole: 200 possible years of a dozen strategies are some 5 MB.
    fn default() -> Self {
        Self { block: 4 << 20, memory: 16 << 20, folder: std::env::temp_dir() }
    }
}

/// What a column may hold: a number of so many bytes.
pub trait Cell: Copy {
    /// Its bytes.
    const BYTES: usize;
    /// Adds its bytes.
    fn put(self, bytes: &mut Vec<u8>);
    /// Adds what so many bytes hold.
    fn take(bytes: &[u8], cells: &mut Vec<Self>);
}

macro_rules! cell {
    ($number:ty) => {
        impl Cell for $number {
            const BYTES: usize = size_of::<$number>();

            fn put(self, bytes: &mut Vec<u8>) {
                bytes.extend(self.to_le_bytes());
            }

            fn take(bytes: &[u8], cells: &mut Vec<Self>) {
                let (each, _) = bytes.as_chunks();
                cells.extend(each.iter().copied().map(<$number>::from_le_bytes));
            }
        }
    };
}

cell!(f64);
cell!(u16);

/// Rows of so many cells each.
#[derive(Debug)]
pub struct Columns<T> {
    columns: usize,
    rows: usize,
    block_rows: usize,
    /// Rows that are not laid down yet, one after the other.
    open: Vec<T>,
    laid: Mutex<SpooledTempFile>,
    folder: PathBuf,
}

/// Some rows that follow on each other.
#[derive(Debug)]
pub struct Block<T> {
    rows: usize,
    cells: Vec<T>,
}

impl<T: Cell> Block<T> {
    /// How many rows.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// The cell of a row of the block.
    #[must_use]
    pub fn at(&self, row: usize, column: usize) -> T {
        self.cells[column * self.rows + row]
    }
}

impl<T: Cell> Columns<T> {
    /// None yet, of so many columns.
    #[must_use]
    pub fn new(columns: usize, room: &Room) -> Self {
        Self {
            columns,
            rows: 0,
            block_rows: (room.block / (columns * T::BYTES).max(1)).max(1),
            open: Vec::new(),
            laid: Mutex::new(spooled_tempfile_in(room.memory, &room.folder)),
            folder: room.folder.clone(),
        }
    }

    /// Takes the next row in, a cell a column.
    ///
    /// # Errors
    /// The temporary file could not be written.
    pub fn push(&mut self, row: impl IntoIterator<Item = T>) -> Result<(), SpillError> {
        self.open.extend(row);
        self.rows += 1;
        debug_assert_eq!(self.open.len() % self.columns.max(1), 0, "a row has a cell a column");
        if self.rows.is_multiple_of(self.block_rows) { self.lay_down() } else { Ok(()) }
    }

    /// Lays the last rows down: after this columns can be read, and no row is added.
    ///
    /// # Errors
    /// The temporary file could not be written.
    pub fn close(&mut self) -> Result<(), SpillError> {
        self.lay_down()?;
        self.open = Vec::new();
        Ok(())
    }

    fn lay_down(&mut self) -> Result<(), SpillError> {
        let mut bytes = Vec::with_capacity(self.open.len() * T::BYTES);
        for column in 0..self.columns {
            self.open.iter().skip(column).step_by(self.columns).for_each(|cell| cell.put(&mut bytes));
        }
        self.open.clear();
        self.file(|file| file.write_all(&bytes))
    }

    /// One column, all its rows.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn column(&self, column: usize) -> Result<Vec<T>, SpillError> {
        let mut cells = Vec::with_capacity(self.rows);
        for block in 0..self.blocks() {
            let rows = self.rows_of(block);
            self.read(block, column * rows, rows, &mut cells)?;
        }
        Ok(cells)
    }

    /// How many blocks there are.
    #[must_use]
    pub fn blocks(&self) -> usize {
        self.rows.div_ceil(self.block_rows)
    }

    /// The first `columns` of a block.
    ///
    /// # Errors
    /// The temporary file could not be read.
    pub fn block(&self, block: usize, columns: usize) -> Result<Block<T>, SpillError> {
        let rows = self.rows_of(block);
        let mut cells = Vec::with_capacity(columns * rows);
        self.read(block, 0, columns * rows, &mut cells)?;
        Ok(Block { rows, cells })
    }

    fn rows_of(&self, block: usize) -> usize {
        self.block_rows.min(self.rows - block * self.block_rows)
    }

    /// So many cells of a block from one on.
    fn read(&self, block: usize, from: usize, count: usize, cells: &mut Vec<T>) -> Result<(), SpillError> {
        let before = block * self.block_rows * self.columns + from;
        let mut bytes = vec![0; count * T::BYTES];
        self.file(|file| {
            file.seek(SeekFrom::Start((before * T::BYTES) as u64))?;
            file.read_exact(&mut bytes)
        })?;
        T::take(&bytes, cells);
        Ok(())
    }

    fn file<R>(&self, work: impl FnOnce(&mut SpooledTempFile) -> std::io::Result<R>) -> Result<R, SpillError> {
        let mut file = self.laid.lock().unwrap_or_else(PoisonError::into_inner);
        work(&mut file).map_err(|cause| SpillError { folder: self.folder.clone(), cause })
    }
}
