//! Promises about lettering.
