"""The routine unrolled, wall by wall: absolute counts, facing and weight before and after each movement."""
