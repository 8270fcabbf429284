//! Promises about files.
