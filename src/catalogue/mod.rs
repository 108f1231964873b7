//! What is read: facts about pure refrigerants, pairs and blends, and the words that name them.

pub mod records;
