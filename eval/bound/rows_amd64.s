// Interval arithmetic over rows of eight boxes at a time with the rounding
// direction in the instruction (AVX-512F, Intel SDM volume 2, "embedded
// rounding"): RD rounds down, RU up, so that an operation is one instruction
// for each end. Every row is a multiple of eight lanes long.

#include "textflag.h"

// func addRows512(lo, hi, xl, xh, yl, yh *float64, n int)
TEXT ·addRows512(SB), NOSPLIT, $0-56
	MOVQ lo+0(FP), DI
	MOVQ hi+8(FP), SI
	MOVQ xl+16(FP), R8
	MOVQ xh+24(FP), R9
	MOVQ yl+32(FP), R10
	MOVQ yh+40(FP), R11
	MOVQ n+48(FP), CX
	XORQ AX, AX

add:
	VMOVUPD (R8)(AX*8), Z0
	VMOVUPD (R9)(AX*8), Z1
	VMOVUPD (R10)(AX*8), Z2
	VMOVUPD (R11)(AX*8), Z3
	VADDPD.RD_SAE Z2, Z0, Z4
	VADDPD.RU_SAE Z3, Z1, Z5
	VMOVUPD Z4, (DI)(AX*8)
	VMOVUPD Z5, (SI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  add
	VZEROUPPER
	RET

// func subRows512(lo, hi, xl, xh, yl, yh *float64, n int)
TEXT ·subRows512(SB), NOSPLIT, $0-56
	MOVQ lo+0(FP), DI
	MOVQ hi+8(FP), SI
	MOVQ xl+16(FP), R8
	MOVQ xh+24(FP), R9
	MOVQ yl+32(FP), R10
	MOVQ yh+40(FP), R11
	MOVQ n+48(FP), CX
	XORQ AX, AX

sub:
	VMOVUPD (R8)(AX*8), Z0
	VMOVUPD (R9)(AX*8), Z1
	VMOVUPD (R10)(AX*8), Z2
	VMOVUPD (R11)(AX*8), Z3
	VSUBPD.RD_SAE Z3, Z0, Z4
	VSUBPD.RU_SAE Z2, Z1, Z5
	VMOVUPD Z4, (DI)(AX*8)
	VMOVUPD Z5, (SI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  sub
	VZEROUPPER
	RET

// func mulRows512(lo, hi, xl, xh, yl, yh *float64, n int) (odd uint64)
// The extremes of a product lie at its four corners. A corner that is 0 times
// an infinity is no number; it marks the row as odd.
TEXT ·mulRows512(SB), NOSPLIT, $0-64
	MOVQ lo+0(FP), DI
	MOVQ hi+8(FP), SI
	MOVQ xl+16(FP), R8
	MOVQ xh+24(FP), R9
	MOVQ yl+32(FP), R10
	MOVQ yh+40(FP), R11
	MOVQ n+48(FP), CX
	XORQ AX, AX
	XORQ DX, DX

mul:
	VMOVUPD (R8)(AX*8), Z0
	VMOVUPD (R9)(AX*8), Z1
	VMOVUPD (R10)(AX*8), Z2
	VMOVUPD (R11)(AX*8), Z3
	VMULPD.RD_SAE Z2, Z0, Z4
	VMULPD.RD_SAE Z3, Z0, Z5
	VMULPD.RD_SAE Z2, Z1, Z6
	VMULPD.RD_SAE Z3, Z1, Z7
	VMULPD.RU_SAE Z2, Z0, Z8
	VMULPD.RU_SAE Z3, Z0, Z9
	VMULPD.RU_SAE Z2, Z1, Z10
	VMULPD.RU_SAE Z3, Z1, Z11
	VCMPPD $3, Z5, Z4, K1 // unordered: one of the two is no number
	VCMPPD $3, Z7, Z6, K2
	KORTESTW K1, K2
	SETNE BX
	ORB  BX, DX
	VMINPD Z5, Z4, Z4
	VMINPD Z7, Z6, Z6
	VMINPD Z6, Z4, Z4
	VMAXPD Z9, Z8, Z8
	VMAXPD Z11, Z10, Z10
	VMAXPD Z10, Z8, Z8
	VMOVUPD Z4, (DI)(AX*8)
	VMOVUPD Z8, (SI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  mul
	VZEROUPPER
	MOVBQZX DX, DX
	MOVQ DX, odd+56(FP)
	RET

// func divRows512(lo, hi, xl, xh, yl, yh *float64, n int) (odd uint64)
// As mulRows512; a divisor that may be 0 marks the row as odd too.
TEXT ·divRows512(SB), NOSPLIT, $0-64
	MOVQ lo+0(FP), DI
	MOVQ hi+8(FP), SI
	MOVQ xl+16(FP), R8
	MOVQ xh+24(FP), R9
	MOVQ yl+32(FP), R10
	MOVQ yh+40(FP), R11
	MOVQ n+48(FP), CX
	XORQ AX, AX
	XORQ DX, DX
	VPXORQ Z15, Z15, Z15

div:
	VMOVUPD (R8)(AX*8), Z0
	VMOVUPD (R9)(AX*8), Z1
	VMOVUPD (R10)(AX*8), Z2
	VMOVUPD (R11)(AX*8), Z3
	VDIVPD.RD_SAE Z2, Z0, Z4
	VDIVPD.RD_SAE Z3, Z0, Z5
	VDIVPD.RD_SAE Z2, Z1, Z6
	VDIVPD.RD_SAE Z3, Z1, Z7
	VDIVPD.RU_SAE Z2, Z0, Z8
	VDIVPD.RU_SAE Z3, Z0, Z9
	VDIVPD.RU_SAE Z2, Z1, Z10
	VDIVPD.RU_SAE Z3, Z1, Z11
	VCMPPD $3, Z5, Z4, K1
	VCMPPD $3, Z7, Z6, K2
	KORTESTW K1, K2
	SETNE BX
	ORB  BX, DX
	VCMPPD $2, Z15, Z2, K1     // y.lo <= 0
	VCMPPD $13, Z15, Z3, K1, K2 // and y.hi >= 0
	KORTESTW K2, K2
	SETNE BX
	ORB  BX, DX
	VMINPD Z5, Z4, Z4
	VMINPD Z7, Z6, Z6
	VMINPD Z6, Z4, Z4
	VMAXPD Z9, Z8, Z8
	VMAXPD Z11, Z10, Z10
	VMAXPD Z10, Z8, Z8
	VMOVUPD Z4, (DI)(AX*8)
	VMOVUPD Z8, (SI)(AX*8)
	ADDQ $8, AX
	CMPQ AX, CX
	JLT  div
	VZEROUPPER
	MOVBQZX DX, DX
	MOVQ DX, odd+56(FP)
	RET
