"""Fill, mix, kit, sheet goods, boards, weight and money; one fill against another."""
