package eval

func (c *compiler) rootSumSquare(t *trial) { t.k.out.Verdict = Open }
func (c *compiler) monteCarlo(t *trial)    { t.k.out.Verdict = Open }
