"""Root depths (Guerrero-Ramirez et al. 2021) and fixing partners (Tedersoo et al. 2018)."""
