on run argv
	set addresses to paragraphs of (item 1 of argv)
	tell application "Mail"
		set draft to make new outgoing message with properties {subject:item 2 of argv, content:(item 3 of argv) & return & return, visible:true}
		tell draft
			repeat with one in addresses
				if (contents of one) is not "" then make new to recipient at end of to recipients with properties {address:(contents of one)}
			end repeat
			repeat with n from 4 to count of argv
				make new attachment with properties {file name:(POSIX file (item n of argv)) as alias} at after the last paragraph of content
			end repeat
		end tell
		activate
	end tell
end run
