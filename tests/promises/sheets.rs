//! Promises about sheets.
