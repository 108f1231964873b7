//! A sheet of comma-separated values, read.

/// A sheet as text, by its columns.
pub(crate) struct Sheet {
    pub(crate) heads: Vec<String>,
    pub(crate) rows: Vec<Vec<String>>,
}

impl Sheet {
    pub(crate) fn of(text: &str) -> Self {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let words = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
        Self {
            heads: words(reader.headers().unwrap()),
            // the reader refuses rows of another length than the head's
            rows: reader.records().map(|row| words(&row.unwrap())).collect(),
        }
    }

    pub(crate) fn column(&self, head: &str) -> Vec<&str> {
        let place = self.heads.iter().position(|own| own == head);
        let place = place.unwrap_or_else(|| panic!("no {head} in {:?}", self.heads));
        self.rows.iter().map(|row| row[place].as_str()).collect()
    }

    pub(crate) fn numbers(&self, head: &str) -> Vec<f64> {
        self.column(head)
            .iter()
            .map(|cell| cell.parse().unwrap())
            .collect()
    }
}
