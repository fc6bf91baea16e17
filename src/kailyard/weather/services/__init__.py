"""Weather services of the world, a file each. They say what to ask and understand the answer; the desk asks.

A file holds `NAME`, `HELP`, `HOST` (a key of `_hosts.HOSTS`), `GIVES` ('forecast', 'days' or 'normals'), `BY` ('place'
or 'station'), `CREDIT`, and `asking(asked)`: a generator that yields each address below the host, is sent what came,
and returns what it made of them.
"""
