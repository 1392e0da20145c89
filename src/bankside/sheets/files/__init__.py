"""Files to grids of cells, safely: text and workbooks, whatever they are called."""
