"""Documents that people can sign: pictures, notes, field sheets and workbooks."""
