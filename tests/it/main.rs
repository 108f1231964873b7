//! All integration tests in one binary: a link is dear.
