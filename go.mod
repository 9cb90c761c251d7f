module roundelay

go 1.26

require (
	github.com/BurntSushi/toml v1.6.0 // indirect
	github.com/ajstarks/svgo v0.0.0-20211024235047-1546f124cd8b // indirect
	github.com/yuin/goldmark v1.8.7 // indirect
)
