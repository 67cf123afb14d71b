JUDGES = ()
