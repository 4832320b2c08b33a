"""Jobs: a picture of the shop in, a frozen report or a proposed document out."""
