// Package store keeps logs of opaque records in one bbolt file, chained and
// checked, so that nothing acknowledged is lost and nothing damaged is taken for
// good. It knows no knitting: what a record means is its caller's affair.
package store
