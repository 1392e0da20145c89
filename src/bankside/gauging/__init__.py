"""The gauging as people know it: the record, its wire form, planning and computing."""
