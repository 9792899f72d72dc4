package eval

// TestChecks are the built-in checks, which tests hand in as the command does.
var TestChecks []*Check
