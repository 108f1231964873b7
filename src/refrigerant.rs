//! The face for developers: one refrigerant, pure or blend, and what can be asked of it.
