//! A drawing as a PDF.
