// Interval arithmetic over rows of eight boxes at a time with the rounding
// direction in the instruction (AVX-512F, Intel SDM volume 2, "embedded
// rounding"): RD rounds down, RU up, so that an operation is one instruction
// for each end. Every row is a multiple of eight lanes long.

#include "textflag.h"

// The rows: DI, SI the ends of the result, R8, R9 of x, R10, R11 of y; AX the
// lane, CX how many.
#define ROWS \
	MOVQ lo+0(FP), DI;   \
	MOVQ hi+8(FP), SI;   \
	MOVQ xl+16(FP), R8;  \
	MOVQ xh+24(FP), R9;  \
	MOVQ yl+32(FP), R10; \
	MOVQ yh+40(FP), R11; \
	MOVQ n+48(FP), CX;   \
	XORQ AX, AX

// Eight boxes: Z0, Z1 the ends of x, Z2, Z3 of y.
#define LOAD \
	VMOVUPD (R8)(AX*8), Z0;  \
	VMOVUPD (R9)(AX*8), Z1;  \
	VMOVUPD (R10)(AX*8), Z2; \
	VMOVUPD (R11)(AX*8), Z3

#define STORE(low, high) \
	VMOVUPD low, (DI)(AX*8);  \
	VMOVUPD high, (SI)(AX*8); \
	ADDQ $8, AX;              \
	CMPQ AX, CX

// The four corners of OP, rounded down in Z4 to Z7 and up in Z8 to Z11; DX
// keeps whether one was no number.
#define CORNERS(OPDOWN, OPUP) \
	OPDOWN Z2, Z0, Z4;    \
	OPDOWN Z3, Z0, Z5;    \
	OPDOWN Z2, Z1, Z6;    \
	OPDOWN Z3, Z1, Z7;    \
	OPUP Z2, Z0, Z8;      \
	OPUP Z3, Z0, Z9;      \
	OPUP Z2, Z1, Z10;     \
	OPUP Z3, Z1, Z11;     \
	VCMPPD $3, Z5, Z4, K1; \
	VCMPPD $3, Z7, Z6, K2; \
	KORTESTW K1, K2;      \
	SETNE BX;             \
	ORB  BX, DX

// The lowest and the highest corner, in Z4 and Z8.
#define EXTREMES \
	VMINPD Z5, Z4, Z4;    \
	VMINPD Z7, Z6, Z6;    \
	VMINPD Z6, Z4, Z4;    \
	VMAXPD Z9, Z8, Z8;    \
	VMAXPD Z11, Z10, Z10; \
	VMAXPD Z10, Z8, Z8

#define ODD \
	VZEROUPPER;       \
	MOVBQZX DX, DX;   \
	MOVQ DX, odd+56(FP); \
	RET

// func addRows512(lo, hi, xl, xh, yl, yh *float64, n int)
TEXT ·addRows512(SB), NOSPLIT, $0-56
	ROWS

add:
	LOAD
	VADDPD.RD_SAE Z2, Z0, Z4
	VADDPD.RU_SAE Z3, Z1, Z5
	STORE(Z4, Z5)
	JLT add
	VZEROUPPER
	RET

// func subRows512(lo, hi, xl, xh, yl, yh *float64, n int)
TEXT ·subRows512(SB), NOSPLIT, $0-56
	ROWS

sub:
	LOAD
	VSUBPD.RD_SAE Z3, Z0, Z4
	VSUBPD.RU_SAE Z2, Z1, Z5
	STORE(Z4, Z5)
	JLT sub
	VZEROUPPER
	RET

// func mulRows512(lo, hi, xl, xh, yl, yh *float64, n int) (odd uint64)
// A corner that is 0 times an infinity is no number; it marks the row as odd.
TEXT ·mulRows512(SB), NOSPLIT, $0-64
	ROWS
	XORQ DX, DX

mul:
	LOAD
	CORNERS(VMULPD.RD_SAE, VMULPD.RU_SAE)
	EXTREMES
	STORE(Z4, Z8)
	JLT mul
	ODD

// func divRows512(lo, hi, xl, xh, yl, yh *float64, n int) (odd uint64)
// As mulRows512; a divisor that may be 0 marks the row as odd too.
TEXT ·divRows512(SB), NOSPLIT, $0-64
	ROWS
	XORQ DX, DX
	VPXORQ Z15, Z15, Z15

div:
	LOAD
	CORNERS(VDIVPD.RD_SAE, VDIVPD.RU_SAE)
	VCMPPD $2, Z15, Z2, K1      // y.lo <= 0
	VCMPPD $13, Z15, Z3, K1, K2 // and y.hi >= 0
	KORTESTW K2, K2
	SETNE BX
	ORB  BX, DX
	EXTREMES
	STORE(Z4, Z8)
	JLT div
	ODD
