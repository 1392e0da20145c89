"""Practice on simulated streams as an archive keeps it: apart from every gauging of real water."""
