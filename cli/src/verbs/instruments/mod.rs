//! Questions of those who build instruments.

pub(crate) mod lookup;
