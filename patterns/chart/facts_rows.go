package chart

func factsOf(v View) Facts { return Facts{Fabric: true} }
