"""The board in space: frame, boxes, sockets and plugs, leads and the ways they take."""
