#include "textflag.h"

// func rowsFMA(stencil *float64, sid *int32, runs *[9]int32, pos *int32, x, y *float64, count int)
//
// A run of a stencil is 9 columns of 3 rows, 27 numbers. Four columns are three
// vectors of four numbers, whose rows are 0 1 2 0, 1 2 0 1, 2 0 1 2; they meet
// x0 x0 x0 x1, x1 x1 x2 x2, x2 x3 x3 x3. The ninth column is a vector whose last
// number belongs to the next run and is left out of the sum.
TEXT ·rowsFMA(SB), NOSPLIT, $0-56
	MOVQ stencil+0(FP), DI
	MOVQ sid+8(FP), SI
	MOVQ runs+16(FP), DX
	MOVQ pos+24(FP), CX
	MOVQ x+32(FP), R8
	MOVQ y+40(FP), R9
	MOVQ count+48(FP), R10

node:
	MOVLQSX (SI), AX
	IMULQ   $1944, AX // 243 numbers
	ADDQ    DI, AX
	VXORPD  Y0, Y0, Y0
	VXORPD  Y1, Y1, Y1
	VXORPD  Y2, Y2, Y2
	VXORPD  Y3, Y3, Y3
	VXORPD  Y4, Y4, Y4
	VXORPD  Y5, Y5, Y5
	VXORPD  Y6, Y6, Y6
	MOVQ    $9, R11

run:
	MOVLQSX (DX), BX
	ADDQ    $4, DX
	TESTQ   BX, BX
	JZ      next
	LEAQ    (BX)(BX*2), BX
	LEAQ    (R8)(BX*8), BX

	VMOVUPD     (BX), Y8
	VPERMPD     $0x40, Y8, Y9
	VPERMPD     $0xA5, Y8, Y10
	VPERMPD     $0xFE, Y8, Y11
	VFMADD231PD (AX), Y9, Y0
	VFMADD231PD 32(AX), Y10, Y1
	VFMADD231PD 64(AX), Y11, Y2

	VMOVUPD     32(BX), Y8
	VPERMPD     $0x40, Y8, Y9
	VPERMPD     $0xA5, Y8, Y10
	VPERMPD     $0xFE, Y8, Y11
	VFMADD231PD 96(AX), Y9, Y4
	VFMADD231PD 128(AX), Y10, Y5
	VFMADD231PD 160(AX), Y11, Y6

	VBROADCASTSD 64(BX), Y12
	VFMADD231PD  192(AX), Y12, Y3

next:
	ADDQ $216, AX
	DECQ R11
	JNZ  run

	VADDPD Y4, Y0, Y0
	VADDPD Y5, Y1, Y1
	VADDPD Y6, Y2, Y2

	// rows 0 1 2 of the leading three numbers, then of the last ones
	VADDPD  Y0, Y3, Y3
	VPERMPD $0x12, Y1, Y8        // 2 0 1 0
	VADDPD  Y8, Y3, Y3
	VPERMPD $0x09, Y2, Y8        // 1 2 0 0
	VADDPD  Y8, Y3, Y3
	VPERMPD $0xFF, Y0, Y9
	VPERMPD $0xFF, Y1, Y10
	VPERMPD $0xFF, Y2, Y11
	VBLENDPD $2, Y10, Y9, Y9
	VBLENDPD $4, Y11, Y9, Y9
	VADDPD  Y9, Y3, Y3

	MOVLQSX (CX), BX
	LEAQ    (BX)(BX*2), BX
	VMOVUPD X3, (R9)(BX*8)
	VEXTRACTF128 $1, Y3, X4
	VMOVSD  X4, 16(R9)(BX*8)

	ADDQ $4, SI
	ADDQ $4, CX
	DECQ R10
	JNZ  node
	VZEROUPPER
	RET
