//! Promises about commands.
