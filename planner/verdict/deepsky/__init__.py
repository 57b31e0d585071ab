"""Does this telescope show a cluster, nebula or galaxy? The margins and the judge.

Modules: profiles (how light falls off), margins, filtering, open_clusters, cluster_stars,
star_table, limits (what stands in the way), judge.
"""
