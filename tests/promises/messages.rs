//! Promises about messages.
