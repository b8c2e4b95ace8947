module deskpart

go 1.26.0

require (
	github.com/beevik/etree v1.8.1
	golang.org/x/image v0.48.0
)

require golang.org/x/text v0.44.0 // indirect
