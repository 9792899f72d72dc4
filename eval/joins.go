package eval

// This file follows a supply through what joins two nets with a little
// resistance: a ferrite bead, a fuse, a closed switch, a link that states its
// resistance, the resistor of a supply's filter. The net behind stands at the
// voltage before it less what the guaranteed resistance drops at the current
// stated. Kirchhoff's voltage law makes that exact, whatever else hangs on the
// net; what is not stated leaves the voltage unknown.
