// Package examples holds design notebooks with invented parts and their
// invented data sheets. Its tests compile every one of them, so what stands
// there is what the compiler really reads.
package examples
